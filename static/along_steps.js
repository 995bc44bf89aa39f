// The stitches of a round one by one, from its tree of steps: which repeat each lies in.
"use strict";

// A leaf is {words, one, n, makes}, `one` the words of a single stitch; a repeat {times, words,
// steps}. Each stitch knows its leaf, which of the leaf it is, what is made when it is done, and the
// repeats it lies in, outermost first.
function expandSteps(steps) {
  const stitches = [];
  let made = 0;
  function walk(items, repeats) {
    for (const item of items) {
      if (item.steps) {
        for (let turn = 1; turn <= item.times; turn += 1) {
          const id = `${stitches.length}`;
          walk(item.steps, [...repeats, { id, turn, times: item.times, words: item.words }]);
        }
        continue;
      }
      for (let number = 1; number <= item.n; number += 1) {
        made += item.makes;
        stitches.push({ leaf: item, number, made, repeats });
      }
    }
  }
  walk(steps, []);
  return stitches;
}

// Where the innermost repeat that stitch `at` lies in ends, else its run of one kind.
function endOfRepeat(stitches, at) {
  const here = stitches[at];
  const inner = here.repeats[here.repeats.length - 1];
  const same = inner
    ? (other) => other.repeats.includes(inner)
    : (other) => other.leaf === here.leaf && other.repeats.length === 0;
  let end = at;
  while (end < stitches.length && same(stitches[end])) end += 1;
  return end;
}

// `3rd of 6: 2 sc, inc`, and for repeats within repeats the outer ones before it.
function repeatWords(stitch) {
  const one = (r) => said("repeat", { nth: ordinal(r.turn), total: r.times, stitches: r.words });
  return stitch.repeats.map(one).join(" · ");
}
