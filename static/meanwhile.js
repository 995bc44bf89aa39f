// What is written while an answer is under way stays. The server answers what it was sent; boxes it
// draws anew get back what has been written in them since, and boxes it was not told of keep theirs.
"use strict";

(() => {
  const BOXES = 'input:not([type="hidden"], [type="file"], [type="range"]), select, textarea';
  const boxes = () => [...document.querySelectorAll(BOXES)].filter((box) => box.name && box.form);
  const ticked = (box) => box.type === "checkbox";
  const written = (box) => (ticked(box) ? String(box.checked) : box.value);
  const label = (box) => box.getAttribute("aria-label") || box.labels?.[0]?.textContent.trim();
  const asWhich = (box) => [
    box.form.id || box.form.className, box.name, ticked(box) ? box.value : "", label(box),
  ].join("|");

  function drawn(box) {
    if (ticked(box)) return String(box.defaultChecked);
    if (box.matches("select")) return ([...box.options].find((o) => o.defaultSelected) || box.options[0])?.value;
    return box.defaultValue;
  }

  // --- what an answer knows of ---
  const asked = new WeakMap(); // by request: what it found in the boxes

  document.addEventListener("htmx:beforeRequest", (event) => {
    const { elt, xhr, requestConfig } = event.detail;
    const sent = requestConfig.formData;
    // The designer's two forms answer for each other.
    const forms = ["editor", "design"].includes(elt.id)
      ? ["editor", "design"].map((id) => document.getElementById(id)) : [elt];
    const found = new Map();
    for (const box of boxes()) {
      if (!forms.includes(box.form)) continue;
      const told = box.form === elt && !ticked(box) ? sent.get(box.name) : null;
      found.set(box, told ?? written(box));
    }
    asked.set(xhr, { found, pressed: sent.get("do") });
  });

  // --- what has been written since ---
  let kept = [];

  document.addEventListener("htmx:beforeSwap", (event) => {
    const { found, pressed } = asked.get(event.detail.xhr) || { found: new Map() };
    kept = [];
    for (const box of boxes()) {
      const knew = found.get(box) ?? drawn(box);
      if (written(box) === knew) continue;
      const active = box === document.activeElement;
      const caret = active && box.setSelectionRange ? [box.selectionStart, box.selectionEnd] : null;
      kept.push({ box, which: asWhich(box), words: written(box), knew, pressed, active, caret });
    }
  });

  function giveBack({ box, which, words, knew, pressed, active, caret }, fresh) {
    if (box.isConnected) return;
    // A button may have brought other boxes of the same names; those are not the ones written in.
    const same = fresh.find((b) => asWhich(b) === which && (!pressed || drawn(b) === knew));
    if (!same) return;
    if (ticked(same)) same.checked = words === "true";
    else same.value = words;
    if (active) {
      same.focus({ preventScroll: true });
      if (caret && caret[0] !== null) same.setSelectionRange(...caret);
      leftLater(same);
    }
    same.dispatchEvent(new Event("input", { bubbles: true }));
  }

  // A browser tells of a change that was typed; one that was given back it may leave unsaid.
  function leftLater(box) {
    let told = false;
    const tell = () => { told = true; };
    box.addEventListener("change", tell);
    box.addEventListener("blur", () => {
      box.removeEventListener("change", tell);
      if (!told && box.isConnected) box.dispatchEvent(new Event("change", { bubbles: true }));
    }, { once: true });
  }

  document.addEventListener("htmx:afterSwap", () => {
    if (!kept.length) return;
    const fresh = boxes();
    for (const one of kept) giveBack(one, fresh);
    kept = [];
  });

  window.roundling = { ...window.roundling, asDrawn: (box) => written(box) === drawn(box) };
})();
