// What the page of stitching along says, in the language of the pattern: sentences with places.
"use strict";

const WORDS = JSON.parse(document.getElementById("main").dataset.words);

// A sentence in pieces, its places filled; a value may be a node.
function saidPieces(name, values = {}) {
  return WORDS[name].split(/\{(\w+)\}/).map((piece, k) => (k % 2 ? values[piece] : piece));
}

const said = (name, values) => saidPieces(name, values).join("");

// A number with its ending, in English; other languages have it in their sentences.
const ORDINALS = new Intl.PluralRules("en", { type: "ordinal" });
const ordinal = (number) => `${number}${WORDS.endings[ORDINALS.select(number)] || ""}`;

const grouped = (number) => number.toLocaleString(document.getElementById("main").lang || "en");
