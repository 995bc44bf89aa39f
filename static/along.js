// One round at a time with a counter inside it; the place in every piece is kept on this device.
"use strict";

(() => {
  const main = document.getElementById("main");
  const get = (id) => document.getElementById(id);
  const perStitch = Number(main.dataset.perStitch);
  const sewingSeconds = Number(main.dataset.sewingMinutes) * 60;

  const put = (id, text) => {
    get(id).textContent = text;
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
      const { part, label: alone } = section.dataset;
      const label = copies > 1 ? said("copy", { piece: alone, number: copy, total: copies }) : alone;
      pieces.push({ key: `${part} ${copy}`, label, rounds, sewing: !part });
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
      put("offline-said", said("not_kept"));
    }
  }

  // --- showing

  function showSelects() {
    get("piece").replaceChildren(
      ...pieces.map((p) => {
        const finished = place.get(p.key).done === p.rounds.length;
        return new Option((finished ? "✓ " : "") + p.label, p.key, false, p === piece);
      }),
    );
    const { done } = here();
    const options = piece.rounds.map((r, k) => new Option((k < done ? "✓ " : "") + r.label, k, false, k === done));
    if (done === piece.rounds.length) options.push(new Option(said("finished"), done, false, true));
    get("round").replaceChildren(...options);
    for (const r of piece.rounds) r.item.classList.remove("done", "here");
    piece.rounds.forEach((r, k) => r.item.classList.toggle("done", k < done));
    if (round()) round().item.classList.add("here");
  }

  function showNotes() {
    const earlier = piece.rounds[here().done - 1];
    const notes = [...(earlier ? earlier.after : []), ...(round() ? round().before : [])];
    if (changed) notes.unshift(said("changed"));
    get("notes").replaceChildren(
      ...notes.map((text) => Object.assign(document.createElement("li"), { textContent: text })),
    );
    get("notes").hidden = notes.length === 0;
  }

  function nextPiece() {
    const open = (p) => place.get(p.key).done < p.rounds.length;
    const from = pieces.indexOf(piece);
    return pieces.slice(from + 1).find(open) || pieces.find(open);
  }

  function showStitch() {
    const { at } = here();
    const next = stitches[at];
    const { number, leaf } = next;
    if (next.repeats.length) put("repeat", repeatWords(next));
    else if (round().steps.length === 1) put("repeat", said("stitch", { number, total: leaf.n }));
    else if (leaf.n > 1) put("repeat", said("run", { nth: ordinal(number), stitches: leaf.words }));
    else put("repeat", leaf.words);
    put("stitch-kind", said("next_stitch", { stitch: leaf.one }));
    const made = document.createElement("span");
    made.id = "stitch-made";
    made.textContent = madeInRound();
    const { count } = round();
    get("stitch-count").replaceChildren(...saidPieces(count === 1 ? "one" : "several", { made, count }));
    put("stitch-does", said("tap"));
    put("group", said(next.repeats.length ? "this_repeat" : "this_run"));
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
    const back = piece.sewing ? "back_step" : "back_round";
    put("undo", said(here().at > 0 ? "back_stitch" : back));
    if (now) put("round-name", `${piece.label} · ${now.label}`);
    else put("round-name", said("piece_finished", { piece: piece.label }));
    if (now && counted) {
      put("round-text", `${now.text} [${now.count}]`);
      showStitch();
    } else if (now) {
      put("round-text", now.text);
      showButton("", said("done"));
    } else {
      const next = nextPiece();
      put("round-text", next ? said("next", { next: next.label }) : said("toy_finished"));
      showButton(next ? next.label : "", next ? said("go_on") : "");
    }
    get("stitch").hidden = !now && !nextPiece();
    showProgress();
  }

  function showButton(kind, does) {
    put("stitch-kind", kind);
    put("stitch-count", "");
    put("stitch-does", does);
  }

  function showProgress() {
    const { made, left } = progress();
    const share = total ? made / total : 0;
    get("progress").value = share;
    const clock = along.clock(left);
    const time = said(clock.hours ? "hours" : "minutes", clock);
    const percent = Math.floor(share * 100);
    put("left", said("progress", { percent, made: grouped(made), total: grouped(total), time }));
    get("stitch").classList.toggle("plain", stitches.length === 0);
  }

  const say = (...sentences) => put("said", sentences.join(WORDS.gap));

  // --- stepping

  function finishRound() {
    const done = round();
    here().done += 1;
    here().at = 0;
    keep();
    show();
    const { label, count } = done;
    say(
      count ? said("round_done", { round: label, count }) : said("step_done", { step: label }),
      round() ? said("next", { next: round().label }) : said("last_done", { piece: piece.label }),
    );
  }

  function advanceTo(at) {
    if (at >= stitches.length) {
      finishRound();
      return;
    }
    here().at = at;
    keep();
    show();
    const { count } = round();
    say(said("now", { made: madeInRound(), count, stitches: get("repeat").textContent }));
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
    const { label, count } = round();
    say(said("went_back", { round: label, made: madeInRound(), count }));
  }

  function roundBefore() {
    const now = here();
    if (now.at === 0 && now.done > 0) now.done -= 1;
    now.at = 0;
    keep();
    show();
    say(said("at_start", { round: round().label }));
  }

  function goTo(other) {
    piece = other;
    keep();
    show();
    say(get("round-name").textContent);
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
    // A foot switch goes on from a list or a tick as well: there is nothing to type on this page.
    const page = ["PageDown", "PageUp"].includes(event.key);
    if (!page && event.target.closest("input, select, textarea")) return;
    if (event.key === " " && event.target.closest("button, a, summary")) return;
    event.preventDefault();
    KEYS[event.key]();
  });

  // What stands above is as high as the toy's name and the language make it.
  const measure = () => main.style.setProperty("--above", `${get("now").offsetTop}px`);
  get("now").hidden = false;
  measure();
  window.addEventListener("resize", measure);
  get("all").open = false;
  show();
  // The same toy open in two tabs: the one that is looked at has the latest place.
  window.addEventListener("storage", (event) => {
    if (event.key && event.key.endsWith(main.dataset.key) && event.newValue) location.reload();
  });
  // A page that a browser brings back as it was left does not know what was counted or forgotten since.
  window.addEventListener("pageshow", (event) => {
    if (event.persisted) location.reload();
  });
})();
