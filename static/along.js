// One round at a time with a counter inside it; the place in every piece is kept on this device.
"use strict";

(() => {
  const main = document.getElementById("main");
  const get = (id) => document.getElementById(id);
  const perStitch = Number(main.dataset.perStitch);
  const sewingSeconds = Number(main.dataset.sewingMinutes) * 60;

  // Words of the pattern, in its language; the page's own words are plain strings.
  function theirs(text) {
    const span = Object.assign(document.createElement("span"), { textContent: text });
    if (main.dataset.lang) span.lang = main.dataset.lang;
    return span;
  }
  const put = (id, ...words) => get(id).replaceChildren(...words);
  const option = (marks, text, value, chosen, foreign) => {
    const made = new Option(marks + text, value, false, chosen);
    if (foreign && main.dataset.lang) made.lang = main.dataset.lang;
    return made;
  };

  function readRound(item) {
    const notes = (kind) => [...item.querySelectorAll(`.note.${kind}`)].map((note) => note.textContent);
    return {
      item,
      label: item.dataset.label,
      count: Number(item.dataset.count),
      text: item.querySelector(".text").textContent,
      steps: JSON.parse(item.dataset.steps),
      before: notes("before"),
      after: notes("after"),
    };
  }

  // Every piece to be made: two ears are two pieces.
  const pieces = [];
  for (const section of document.querySelectorAll("section.piece")) {
    const rounds = [...section.querySelectorAll("li")].map(readRound);
    const copies = Number(section.dataset.copies);
    for (let copy = 1; copy <= copies && rounds.length; copy += 1) {
      const label = section.dataset.label + (copies > 1 ? `, ${copy} of ${copies}` : "");
      const sewing = !section.dataset.part;
      const words = sewing ? [label] : [theirs(section.dataset.label), label.slice(section.dataset.label.length)];
      pieces.push({ key: `${section.dataset.part} ${copy}`, label, words, rounds, sewing });
    }
  }
  const total = pieces.reduce((sum, p) => sum + p.rounds.reduce((part, r) => part + r.count, 0), 0);

  // --- what is kept: for each piece the rounds done and the stitches of the one begun

  const kept = along.read(main.dataset.key) || {};
  const changed = kept.digest !== undefined && kept.digest !== main.dataset.digest;
  const whole = (number, most) => (Number.isInteger(number) ? Math.max(0, Math.min(most, number)) : 0);
  const place = new Map();
  for (const piece of pieces) {
    const found = kept.pieces && kept.pieces[piece.key];
    const [done, at] = Array.isArray(found) ? found : [0, 0];
    place.set(piece.key, { done: whole(done, piece.rounds.length), at: Number.isInteger(at) && at > 0 ? at : 0 });
  }
  let piece = pieces.find((p) => p.key === kept.piece) || pieces[0];
  let stitches = [];

  const here = () => place.get(piece.key);
  const round = () => piece.rounds[here().done];
  const madeInRound = () => (here().at > 0 && stitches.length ? stitches[here().at - 1].made : 0);

  function madeIn(one) {
    const { done } = place.get(one.key);
    return one.rounds.slice(0, done).reduce((sum, r) => sum + r.count, 0);
  }

  function progress() {
    const sewing = pieces.find((p) => p.sewing);
    let made = pieces.reduce((sum, p) => sum + madeIn(p), 0);
    made += pieces.reduce((sum, p) => {
      const { done, at } = place.get(p.key);
      if (at === 0 || done >= p.rounds.length) return sum;
      return sum + (expandSteps(p.rounds[done].steps)[at - 1]?.made || 0);
    }, 0);
    const sewn = sewing ? place.get(sewing.key).done / sewing.rounds.length : 0;
    return { made, sewn, left: (total - made) * perStitch + (1 - sewn) * sewingSeconds };
  }

  function keep() {
    const { made, left } = progress();
    const finished = pieces.every((p) => place.get(p.key).done === p.rounds.length);
    const toy = {
      name: main.dataset.name,
      address: main.dataset.address,
      choices: main.dataset.choices,
      digest: main.dataset.digest,
      pieces: Object.fromEntries([...place].map(([key, { done, at }]) => [key, [done, at]])),
      piece: piece.key,
      made,
      total,
      left,
      finished,
      when: Date.now(),
    };
    if (!along.write(main.dataset.key, toy)) {
      get("offline-said").textContent = "This browser does not let the page keep your place.";
    }
  }

  // --- showing

  function showSelects() {
    get("piece").replaceChildren(
      ...pieces.map((p) => {
        const finished = place.get(p.key).done === p.rounds.length;
        return option(finished ? "✓ " : "", p.label, p.key, p === piece, !p.sewing);
      }),
    );
    const { done } = here();
    const options = piece.rounds.map((r, k) => option(k < done ? "✓ " : "", r.label, k, k === done, !piece.sewing));
    if (done === piece.rounds.length) options.push(new Option("finished", done, false, true));
    get("round").replaceChildren(...options);
    for (const r of piece.rounds) r.item.classList.remove("done", "here");
    piece.rounds.forEach((r, k) => r.item.classList.toggle("done", k < done));
    if (round()) round().item.classList.add("here");
  }

  function showNotes() {
    const earlier = piece.rounds[here().done - 1];
    const notes = [...(earlier ? earlier.after : []), ...(round() ? round().before : [])];
    const items = notes.map((text) => [theirs(text)]);
    if (changed) items.unshift(["The pattern has changed since you began: check your place."]);
    get("notes").replaceChildren(
      ...items.map((words) => {
        const item = document.createElement("li");
        item.append(...words);
        return item;
      }),
    );
    get("notes").hidden = items.length === 0;
  }

  function nextPiece() {
    const open = (p) => place.get(p.key).done < p.rounds.length;
    const from = pieces.indexOf(piece);
    return pieces.slice(from + 1).find(open) || pieces.find(open);
  }

  function showStitch() {
    const { at } = here();
    const next = stitches[at];
    if (next.repeats.length) put("repeat", ...repeatWords(next, theirs));
    else if (round().steps.length === 1) put("repeat", `Stitch ${next.number} of ${next.leaf.n}`);
    else if (next.leaf.n > 1) put("repeat", `${ordinal(next.number)} of `, theirs(next.leaf.words));
    else put("repeat", theirs(next.leaf.words));
    put("stitch-kind", "Next: ", theirs(next.leaf.one));
    get("stitch-made").textContent = madeInRound();
    put("stitch-total", theirs(`${round().count} ${round().count === 1 ? main.dataset.word : main.dataset.words}`));
    get("stitch-does").textContent = "Tap for each stitch";
    get("group").textContent = next.repeats.length ? "This repeat" : "This run";
  }

  function show() {
    const now = round();
    stitches = now ? expandSteps(now.steps) : [];
    if (here().at >= stitches.length) here().at = 0;
    showSelects();
    showNotes();
    const counted = stitches.length > 0;
    for (const id of ["repeat", "group"]) get(id).hidden = !counted;
    get("whole").hidden = !now || !counted;
    get("undo").disabled = here().done === 0 && here().at === 0;
    const back = piece.sewing ? "Back a step" : "Back a round";
    get("undo").textContent = here().at > 0 ? "Back a stitch" : back;
    if (now && counted) {
      put("round-name", ...named(piece), " · ", theirs(now.label));
      put("round-text", theirs(`${now.text} [${now.count}]`));
      showStitch();
    } else if (now) {
      put("round-name", ...named(piece), ` · ${now.label}`);
      put("round-text", theirs(now.text));
      showButton([], "Done");
    } else {
      const next = nextPiece();
      put("round-name", ...named(piece), ": finished");
      if (next) put("round-text", "Next: ", ...named(next), ".");
      else put("round-text", "That was the last of it. The toy is finished.");
      showButton(next ? named(next) : [], next ? "Go on" : "");
    }
    get("stitch").hidden = !now && !nextPiece();
    showProgress();
  }

  // The name of a piece, as nodes of its own wherever it is shown.
  const named = (one) => one.words.map((part) => (typeof part === "string" ? part : part.cloneNode(true)));

  function showButton(kind, does) {
    put("stitch-kind", ...kind);
    get("stitch-made").textContent = "";
    get("stitch-total").textContent = "";
    get("stitch-does").textContent = does;
  }

  function showProgress() {
    const { made, left } = progress();
    const share = total ? made / total : 0;
    get("progress").value = share;
    get("left").textContent =
      `${Math.floor(share * 100)} %: ${made.toLocaleString("en")} of ${total.toLocaleString("en")} stitches, about ${along.hours(left)} left`;
    get("stitch").classList.toggle("plain", stitches.length === 0);
  }

  const say = (...words) => put("said", ...words);
  const roundWords = (r) => (piece.sewing ? r.label : theirs(r.label));

  // --- stepping

  function finishRound() {
    const done = round();
    here().done += 1;
    here().at = 0;
    keep();
    show();
    const after = round() ? [" Next: ", roundWords(round()), "."] : [" ", ...named(piece), " finished."];
    say(roundWords(done), ` done${done.count ? `, ${done.count} stitches` : ""}.`, ...after);
  }

  function advanceTo(at) {
    if (at >= stitches.length) {
      finishRound();
      return;
    }
    here().at = at;
    keep();
    show();
    const next = [...get("repeat").childNodes].map((node) => node.cloneNode(true));
    say(`${madeInRound()} of ${round().count}. Next `, ...next);
  }

  function stitch() {
    if (round()) advanceTo(stitches.length ? here().at + 1 : 0);
    else if (nextPiece()) goTo(nextPiece());
  }

  function group() {
    if (stitches.length) advanceTo(endOfRepeat(stitches, here().at));
  }

  function wholeRound() {
    if (round()) finishRound();
  }

  function undo() {
    const now = here();
    if (now.at > 0) now.at -= 1;
    else if (now.done > 0) {
      now.done -= 1;
      now.at = Math.max(0, expandSteps(piece.rounds[now.done].steps).length - 1);
    } else return;
    keep();
    show();
    say("Back: ", roundWords(round()), `, ${madeInRound()} of ${round().count}.`);
  }

  function roundBefore() {
    const now = here();
    if (now.at === 0 && now.done > 0) now.done -= 1;
    now.at = 0;
    keep();
    show();
    say("Back to the start of ", roundWords(round()), ".");
  }

  function goTo(other) {
    piece = other;
    keep();
    show();
    say(...[...get("round-name").childNodes].map((node) => node.cloneNode(true)));
  }

  get("stitch").addEventListener("click", stitch);
  get("group").addEventListener("click", group);
  get("whole").addEventListener("click", wholeRound);
  get("undo").addEventListener("click", undo);
  get("piece").addEventListener("change", (event) => goTo(pieces.find((p) => p.key === event.target.value)));
  get("round").addEventListener("change", (event) => {
    here().done = Number(event.target.value);
    here().at = 0;
    goTo(piece);
  });

  const KEYS = {
    " ": stitch,
    ArrowRight: stitch,
    ArrowDown: group,
    PageDown: wholeRound,
    ArrowLeft: undo,
    Backspace: undo,
    PageUp: roundBefore,
  };
  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || !(event.key in KEYS)) return;
    if (event.target.closest("input, select, textarea")) return;
    if (event.key === " " && event.target.closest("button, a, summary")) return;
    event.preventDefault();
    KEYS[event.key]();
  });

  get("now").hidden = false;
  get("all").open = false;
  show();
  // The same toy open in two tabs: the one that is looked at has the latest place.
  window.addEventListener("storage", (event) => {
    if (event.key && event.key.endsWith(main.dataset.key) && event.newValue) location.reload();
  });
})();
