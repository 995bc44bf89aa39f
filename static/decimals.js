// A decimal comma is written as a point, in the box itself, before the number is taken.
"use strict";

(() => {
  const NUMBERS = 'input[inputmode="decimal"], input[data-formula]';
  document.addEventListener("change", (event) => {
    const box = event.target;
    if (!box.matches(NUMBERS)) return;
    const pointed = box.value.trim().replace(/^([+-]?\d+),(\d{1,2})$/, "$1.$2");
    if (pointed === box.value) return;
    box.value = pointed;
    box.dispatchEvent(new Event("input", { bubbles: true }));
  }, true);
})();
