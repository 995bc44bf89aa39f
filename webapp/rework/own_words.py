"""What parts, fillings and colours are called, in the languages of :mod:`webapp.terms`.

Words are compared in plain small letters without accents. Names of parts and colours: everyday
words, from memory.
"""

from __future__ import annotations

import re
import unicodedata
from enum import Enum


class Role(Enum):
    """What a part is of a toy; its value is a word that :mod:`webapp.own.wonted` knows."""

    PATCH = "patch"
    BODY = "body"
    HEAD = "head"
    EAR = "ears"
    MUZZLE = "muzzle"
    ARM = "arms"
    LEG = "legs"
    TAIL = "tail"
    HAT = "hat"
    OTHER = ""


NAMES: dict[Role, str] = {
    Role.PATCH: r"patch(es)?|spots?|fleck(en)?|taches?|manchas?|macchi[ae]|vlek(ken)?|"
    r"\w*plet(ter)?|\w*flekk(er)?|\w*flack(ar)?",
    Role.TAIL: r"tails?|flukes?|\w*schwanz|queue|colas?|rabo|rabito|coda|caudas?|staart|"
    r"hale(n|r|finner?)?|svans(en)?|stjart(fenor)?",
    Role.EAR: r"ears?|horns?|antlers?|tufts?|\w*ohr(en)?|oehrchen|ohrchen|horner|hoerner|oreilles?|"
    r"cornes?|orejas?|cuernos?|orecchi[oae]|corn[oai]|orelhas?|chifres?|oor|oren|oortjes?|hoorns?|"
    r"orer?(ne)?|ora|oron(en)?|\w*horn|gevir|\w*tuster|\w*tofsar",
    Role.MUZZLE: r"muzzles?|snouts?|noses?|beaks?|schnauze|nase|schnabel|museau|nez|bec|hocico|"
    r"nariz|pico|muso|naso|becco|focinho|bico|snuit|neus|snavel|snud(e|en)|snut(e|en)|"
    r"mule|naese|nese|nasa|nos(en|parti)?|naeb|nebb|nabb",
    Role.HAT: r"hats?|caps?|mutze|muetze|hut|chapeau|bonnet|sombrero|gorro|cappello|chapeu|hoed|"
    r"muts|hatt|hue|lue|mossa",
    Role.BODY: r"body|torso|trunk|koerper|korper|rumpf|leib|corps|cuerpo|corpo|lijf|lichaam|romp|"
    r"krop(pen)?|kropp",
    Role.HEAD: r"heads?|face|kopf|tete|cabeza|testa|cabeca|hoofd|kop|hoved(et)?|hode(t)?|"
    r"huvud(et)?",
    Role.ARM: r"arms?|hands?|wings?|fins?|flippers?|\w*armen?|arme|flugel|fluegel|\w*flossen?|bras|"
    r"ailes?|nageoires?|brazos?|alas?|aletas?|bracci[ao]|ali|pinn[ae]|bracos?|asas?|barbatanas?|"
    r"vleugels?|vinnen|vin|armar|armer|vinger?|vingar|finner?|fen(a|or)|luffer?|haender|hender|hander",
    Role.LEG: r"legs?|feet|foot|paws?|shoes?|\w*beine?|\w*fusse?|fuesse|\w*pfoten?|jambes?|pieds?|"
    r"pattes?|piernas?|pies?|patas?|gamb[ae]|zamp[ae]|pied[ei]|pernas?|pes|pe|benen|been|poten|"
    r"poot|poten|voet(en)?|ben(et|ene|en)?|\w+ben|bein(et|a)?|fot|fotter|fod|fodder|poter?|"
    r"tass(ar)?|skor?",
}
"""Whole words, by role; of a title with several the first role here that is met but a body's."""

BY_ROLE = {role: re.compile(words) for role, words in NAMES.items()}

UNSTUFFED = re.compile(
    r"\b(do not|don t|not|no|without|un|nicht|ohne|ne pas|sans|no se|sin|non|senza|nao|sem|niet|"
    r"zonder|ikke|uden|uten|inte|utan)\b.{0,24}(stuff|fill|stopf|full|rembour|bourr|rellen|imbott|ench|vul|fyl)|unstuffed"
    r"|pas (rembourr|bourr)"
)
LIGHTLY = re.compile(
    r"light|little|loosely|leicht|wenig|locker|leger|peu|poco|liger|legger|lev|licht|beetje|lost|lidt|litt|lite"
)
ON_FACE = re.compile(
    r"\b(eyes?|cheeks?|augen?|wangen?|yeux|oeil|joues?|ojos?|mejillas?|occhi[oae]?|guance|olhos?|"
    r"bochechas?|oog|ogen|oje|ojne|oye|oyne|oga|ogon|kinder|kinn)\b"
)
HOST_FOLLOWS = re.compile(
    r"\b(to|on|onto|of|an|am|auf|vom|von|zum|des|sur|au|aux|a|du|de|del|al|alla|della|sul|sulla|ao|"
    r"do|da|no|na|aan|op|van|pa|til|till|ved|vid|delen)"
    r"( (the|den|der|die|das|dem|la|le|el|il|lo|o|het|a))?$"
)
"""What stands before the name of the part to which another is sewn."""


COLOURS: dict[str, tuple[str, str]] = {
    "white": ("#f4f1ea", r"white|weiss|blanche?|blanco|bianco|branco|wit|hvidt?|hvitt?|vitt?"),
    "black": ("#2b2b2b", r"black|schwarz|noire?|negro|nero|preto|zwart|sort|svart"),
    "grey": ("#9a9a9a", r"gr[ea]y|grau|grise?|gris|grigio|cinza|grijs|gra|gratt?"),
    "brown": ("#7a5236", r"brown|braun|brune?|marron|marr[o]ne?|marrom|castanho|bruin|brunt"),
    "beige": ("#d9c3a0", r"beige|tan|sand|bege|crudo"),
    "cream": ("#f0dfc3", r"cream|creme|ecru|crema|panna|ivory|krem"),
    "red": ("#c0392b", r"red|rot|rouge|rojo|rosso|vermelho|rood|rod|rodt|rott"),
    "pink": ("#e8a0b4", r"pink|rosa|rose|roze|lyserodt?"),
    "orange": ("#e08a3c", r"orange|naranja|arancio(ne)?|laranja|oranje|oransje"),
    "yellow": ("#e8c64a", r"yellow|gelb|jaune|amarillo|giallo|amarelo|geel|gult?"),
    "green": ("#5f8a4f", r"green|gruen|grun|verte?|verde|groen|gront?|gronn"),
    "blue": ("#4f74a8", r"blue|blau|bleue?|azul|blu|azzurro|blauw|bla|blatt?"),
    "purple": ("#7d5a99", r"purple|violet|lila|lilac|violett|morado|viola|roxo|paars|lilla"),
}
"""English name, how it is drawn (by eye), and the words for it."""


PALETTE = ("#c9995f", "#7fa3a0", "#b5838d", "#8d99ae", "#a3b18a", "#d4a373")
"""How colours of unknown names are drawn, one by its letters."""


_LETTERS = str.maketrans({"æ": "ae", "œ": "oe", "ø": "o"})

UNSPACED: dict[str, str] = {
    **{"頭": "head", "あたま": "head", "顔": "face", "体": "body", "からだ": "body", "胴": "body"},
    **{"胴体": "body", "本体": "body", "ボディ": "body", "耳": "ear", "耳羽": "tuft", "角": "horn"},
    **{"腕": "arm", "手": "hand", "羽": "wing", "翼": "wing", "ひれ": "fin", "脚": "leg"},
    **{"足": "foot", "靴": "shoe", "しっぽ": "tail", "尻尾": "tail", "尾びれ": "fluke"},
    **{"鼻": "nose", "マズル": "muzzle", "くちばし": "beak", "帽子": "hat", "模様": "patch"},
    **{"目の周り": "patch", "目玉": "eyes", "さし目": "eyes", "頬": "cheeks", "頬紅": "cheeks"},
    **{"ほっぺ": "cheeks", "白": "white", "黒": "black", "灰色": "grey", "グレー": "grey"},
    **{"茶": "brown", "ベージュ": "beige", "クリーム": "cream", "生成り": "cream", "赤": "red"},
    **{"ピンク": "pink", "オレンジ": "orange", "黄": "yellow", "緑": "green", "青": "blue"},
    **{"紫": "purple", "綿は詰めない": "unstuffed", "綿を詰めない": "unstuffed"},
    **{"綿は入れない": "unstuffed", "綿を入れない": "unstuffed", "軽く": "lightly", "綿": "stuff"},
}
"""Words of a language without spaces, and what they are in English."""

_UNSPACED = re.compile("|".join(sorted(UNSPACED, key=len, reverse=True)))


def plain(text: str) -> str:
    """Words in small letters without accents, anything else a space; words of languages without
    spaces in English.

    >>> plain("Füße (2×)"), plain("耳(2枚)")
    ('fusse 2', 'ear 2')
    """
    if not text.isascii():
        text = _UNSPACED.sub(lambda match: f" {UNSPACED[match[0]]} ", text)
    letters = unicodedata.normalize("NFKD", text.casefold().translate(_LETTERS))
    kept = "".join(c for c in letters if not unicodedata.combining(c))
    return " ".join(re.findall(r"[a-z0-9]+", kept))


def roles_in(text: str) -> list[Role]:
    """The roles that words of a text name, in the order of the words."""
    found = (
        next((role for role, words in BY_ROLE.items() if words.fullmatch(word)), None)
        for word in plain(text).split()
    )
    return [role for role in found if role is not None]


def role_of(title: str) -> Role:
    """What a part so called is; "head and body" is a body, "nose of the head" a muzzle.

    >>> role_of("Left arm"), role_of("Kopf und Körper"), role_of("Star")
    (<Role.ARM: 'arms'>, <Role.BODY: 'body'>, <Role.OTHER: ''>)
    """
    roles = roles_in(title)
    if {Role.BODY, Role.HEAD} <= set(roles):
        return Role.BODY
    return min(roles, key=list(NAMES).index, default=Role.OTHER)


PHRASE = re.compile(
    r"(?:^|\b)(?:start with|starting with|chang(?:e|ing) to|switch(?:ing)? to|with|using|in) "
    r"((?:[a-z]+ ){0,2}[a-z]+?)(?= in the last|$)"
)
"""Words that name a colour in English: `in bark brown`, `change to marigold`."""

NO_COLOUR = re.compile(
    r"\b(the|a|an|your|each|round|rnd|st|sts|colou?r|yarn|next|last|back|front|loops?|rows?)\b"
)


def colour_in(text: str) -> tuple[str, str] | None:
    """The colour that a remark names, and how it is drawn (#rrggbb): the words for it where they
    stand alone, else what it is in English; None where none is named."""
    known = known_colour(text)
    sentence = plain(re.split(r"[.:;,(]", text.strip(), maxsplit=1)[0])
    phrase = PHRASE.search(sentence)
    if phrase is None or NO_COLOUR.search(phrase[1]):
        return known
    words_of = phrase[1]
    if known is not None:
        in_phrase = " " in words_of and known_colour(words_of) is not None
        return (words_of, known[1]) if in_phrase else known
    return words_of, PALETTE[sum(map(ord, words_of)) % len(PALETTE)]


def known_colour(text: str) -> tuple[str, str] | None:
    """The last word of a text that is a colour, in English, and how it is drawn."""
    found = None
    for word in plain(text).split():
        for name, (drawn, words) in COLOURS.items():
            if re.fullmatch(words, word):
                found = (name, drawn)
    return found


ROUNDS_NAMED = re.compile(
    r"\b(?:between|zwischen|entre|tra|fra|tussen|mellem|mellom|mellan|over|across)\b(?:\s+[a-z]+){0,4}?\s+(\d+)\s+"
    r"(?:[a-z]+\s+){0,3}?(\d+)\b"
    r"|\b(?:rnds?|rounds?|rows?|runden?|rd|tours?|rangs?|vueltas?|giri|carreiras?|toeren|omg|omgange|omganger|varv)\s+(\d+)\s+"
    r"(?:to\s+|bis\s+|a\s+|y\s+|e\s+|et\s+|en\s+|und\s+|and\s+|tot\s+|og\s+|och\s+|till?\s+)?(\d+)\b"
)


def rounds_in(text: str) -> tuple[int, int] | None:
    """The two rounds that a remark names: "sew between rounds 5 and 9"."""
    found = ROUNDS_NAMED.search(plain(text))
    if not found:
        return None
    first, last = (int(n) for n in found.groups() if n is not None)
    return (first, last) if first <= last else (last, first)
