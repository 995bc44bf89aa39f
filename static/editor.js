// The editor of a toy of one's own. It works without this script; with it every change is taken at
// once, steps can be undone and redone, outlines are dragged, and formulas are offered names.
"use strict";

document.documentElement.classList.add("scripted");

(() => {
  const { asDrawn } = window.roundling;
  const editor = document.getElementById("editor");
  const value = (name) => editor.querySelector(`[name="${name}"]`).value;

  // --- taking changes ---------------------------------------------------------------------------
  // A button pressed right after a box was changed takes both: the change waits while something is
  // pressed, or an answer is under way, and goes with the button.
  let waiting = 0;
  let pressed = false;
  const apart = new Set(["new_shape", "new_label", "set.new_rule"]);
  const busy = () => editor.matches(".htmx-request, .htmx-swapping, .htmx-settling");

  // The box that is being written in is taken when it is left, not by the way.
  let writing = null;
  const inHand = (box) => box === writing && box === document.activeElement && box.type === "text";
  editor.addEventListener("input", (event) => { writing = event.target; });
  editor.addEventListener("change", () => { writing = null; });

  function takeChanges() {
    clearTimeout(waiting);
    waiting = 0;
    // An answer that came meanwhile may have brought all of it already.
    const boxes = [...editor.elements].filter((box) => box.name.startsWith("set.") && !apart.has(box.name));
    if (boxes.every((box) => inHand(box) || asDrawn(box))) return;
    window.htmx.trigger(editor, "settled");
  }

  function soon() {
    clearTimeout(waiting);
    waiting = setTimeout(() => (pressed || busy() || !window.roundling.ready ? soon() : takeChanges()), 150);
  }

  document.addEventListener("htmx:configRequest", (event) => {
    const { elt, formData, triggeringEvent: by } = event.detail;
    if (elt !== editor) return;
    // Only what the step of an undo says is sent, not what stands in the boxes.
    if (!by) {
      for (const name of [...formData.keys()]) {
        if (name.startsWith("set.") || name === "checks") formData.delete(name);
      }
      return;
    }
    // The button that was pressed last keeps the focus; it counts only when it is pressed.
    formData.set("do", by.submitter ? by.submitter.value : "");
    if (by.type === "settled" && writing && inHand(writing)) formData.set(writing.name, writing.defaultValue);
  });

  editor.addEventListener("change", (event) => {
    if (!apart.has(event.target.name)) soon();
  });
  editor.addEventListener("submit", () => {
    clearTimeout(waiting);
    waiting = 0;
  });
  document.addEventListener("pointerdown", () => { pressed = true; });
  document.addEventListener("pointerup", () => { setTimeout(() => { pressed = false; }, 0); });
  document.addEventListener("pointercancel", () => { pressed = false; });

  // --- undo and redo ----------------------------------------------------------------------------
  const MOST = 200;
  const key = "roundling:steps";
  let steps = { list: [], at: -1 };
  try {
    steps = JSON.parse(sessionStorage.getItem(key)) || steps;
  } catch { /* nothing kept, or no store */ }

  const now = () => JSON.stringify({ recipe: value("recipe"), choices: value("choices") });

  // Another toy that is begun or opened has steps of its own: undo does not turn it into the last.
  const from = document.referrer ? new URL(document.referrer).pathname : "";
  if (from !== location.pathname && !steps.list.some((step) => step.what === now())) {
    steps = { list: [], at: -1 };
  }

  function store() {
    try {
      sessionStorage.setItem(key, JSON.stringify(steps));
    } catch { /* a full store: undo lasts as long as the page */ }
  }

  function keep() {
    const here = now();
    const panel = value("open");
    if (steps.list[steps.at]?.what !== here) {
      steps.list = steps.list.slice(0, steps.at + 1);
      steps.list.push({ what: here, panel });
      steps.list = steps.list.slice(-MOST);
      steps.at = steps.list.length - 1;
    } else {
      steps.list[steps.at].panel = panel;
    }
    store();
    document.getElementById("undo").disabled = steps.at < 1;
    document.getElementById("redo").disabled = steps.at >= steps.list.length - 1;
  }

  const frame = () => new Promise(requestAnimationFrame);

  // What was changed just before is taken first, so that it is the step that is undone.
  async function go(by) {
    if (waiting) {
      while (busy()) await frame();
      takeChanges();
      while (busy()) await frame();
      if (editor.querySelector('[aria-invalid="true"]')) return;
    }
    while (busy()) await frame();
    const step = steps.list[steps.at + by];
    if (!step) return;
    steps.at += by;
    store(); // The answer may be another page, which goes on from here.
    const values = { ...JSON.parse(step.what), open: step.panel, do: "" };
    await window.htmx.ajax("POST", "/toys/own/edit", { source: editor, target: editor, swap: "innerHTML", values });
  }

  editor.addEventListener("click", (event) => {
    if (event.target.id === "undo") go(-1);
    if (event.target.id === "redo") go(1);
  });
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z") return;
    if (event.target.matches('input[type="text"], textarea')) return; // the box has its own
    event.preventDefault();
    go(event.shiftKey ? 1 : -1);
  });

  // --- outlines ---------------------------------------------------------------------------------
  let dragged = null;

  function boxesOf(knot) {
    const at = `.points[${knot.dataset.point}]`;
    const named = [...editor.querySelectorAll("input")].filter((i) => i.name.includes(at));
    return { along: named.find((i) => i.name.endsWith("[0]")), out: named.find((i) => i.name.endsWith("[1]")) };
  }

  function redraw(svg) {
    const knots = [...svg.querySelectorAll("circle")];
    const [other, side] = svg.querySelectorAll("polyline");
    const at = (knot, sign) => `${knot.getAttribute("cx")},${sign * knot.getAttribute("cy")}`;
    side.setAttribute("points", knots.map((k) => at(k, 1)).join(" "));
    other.setAttribute("points", knots.map((k) => at(k, -1)).join(" "));
  }

  function move(knot, along, out) {
    const knots = [...knot.ownerSVGElement.querySelectorAll("circle")];
    const n = knots.indexOf(knot);
    const at = (k, name) => Number(knots[k].getAttribute(name));
    const first = n === 0;
    const last = n === knots.length - 1;
    along = first ? 0 : last ? 100 : Math.min(Math.max(along, at(n - 1, "cx") + 2), at(n + 1, "cx") - 2);
    out = Math.min(Math.max(out, first || last ? 0 : 4), 100);
    if (first && at(0, "cy") === 0) out = 0;
    knot.setAttribute("cx", along.toFixed(1));
    knot.setAttribute("cy", (out / 2).toFixed(2)); // drawn at half, as a part is twice as wide
    const boxes = boxesOf(knot);
    boxes.along.value = String(Number(along.toFixed(1)));
    boxes.out.value = String(Number(out.toFixed(1)));
    redraw(knot.ownerSVGElement);
  }

  editor.addEventListener("pointerdown", (event) => {
    if (!event.target.matches("circle.knot")) return;
    dragged = event.target;
    dragged.setPointerCapture(event.pointerId);
    event.preventDefault();
  });
  editor.addEventListener("pointermove", (event) => {
    if (!dragged) return;
    const svg = dragged.ownerSVGElement;
    const here = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    move(dragged, here.x, here.y * 2);
  });
  editor.addEventListener("pointerup", () => {
    if (!dragged) return;
    dragged = null;
    soon();
  });
  editor.addEventListener("input", (event) => {
    const found = /\.points\[(\d+)\]\[[01]\]$/.exec(event.target.name || "");
    const svg = editor.querySelector("[data-outline]");
    if (!found || !svg) return;
    const knot = svg.querySelector(`[data-point="${found[1]}"]`);
    const boxes = boxesOf(knot);
    const [along, out] = [Number(boxes.along.value), Number(boxes.out.value)];
    if (!Number.isFinite(along) || !Number.isFinite(out)) return;
    knot.setAttribute("cx", along);
    knot.setAttribute("cy", out / 2);
    redraw(svg);
  });

  // --- names while a formula is written ---------------------------------------------------------
  const offer = document.createElement("ul");
  offer.className = "offer";
  offer.id = "offer";
  offer.setAttribute("role", "listbox");
  offer.setAttribute("aria-label", "Names that fit");
  offer.hidden = true;
  document.body.append(offer);
  let into = null;
  let chosen = -1;

  const word = (input) => /[A-Za-z][A-Za-z0-9_.]*$/.exec(input.value.slice(0, input.selectionStart));

  function close() {
    offer.hidden = true;
    if (into) into.setAttribute("aria-expanded", "false");
    into = null;
  }

  function show(input) {
    const typed = word(input);
    const names = [...document.querySelectorAll("#names option")].map((o) => o.value);
    const fitting = typed ? names.filter((n) => n.includes(typed[0]) && n !== typed[0]).slice(0, 8) : [];
    if (!fitting.length) return close();
    into = input;
    chosen = 0;
    offer.replaceChildren(...fitting.map((name, n) => {
      const item = document.createElement("li");
      item.id = `offer-${n}`;
      item.setAttribute("role", "option");
      item.textContent = name;
      return item;
    }));
    const box = input.getBoundingClientRect();
    offer.style.setProperty("--x", `${box.left + window.scrollX}px`);
    offer.style.setProperty("--y", `${box.bottom + window.scrollY + 2}px`);
    offer.hidden = false;
    input.setAttribute("role", "combobox");
    input.setAttribute("aria-controls", "offer");
    input.setAttribute("aria-expanded", "true");
    mark();
  }

  function mark() {
    [...offer.children].forEach((item, n) => item.setAttribute("aria-selected", String(n === chosen)));
    into.setAttribute("aria-activedescendant", `offer-${chosen}`);
  }

  function take(n) {
    const typed = word(into);
    const end = into.selectionStart;
    into.setRangeText(offer.children[n].textContent, end - typed[0].length, end, "end");
    close();
  }

  editor.addEventListener("input", (event) => {
    if (event.target.matches("[data-formula]") && event.target === document.activeElement) show(event.target);
  });
  editor.addEventListener("keydown", (event) => {
    if (offer.hidden || event.target !== into) return;
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      const by = event.key === "ArrowDown" ? 1 : -1;
      chosen = (chosen + by + offer.children.length) % offer.children.length;
      mark();
      event.preventDefault();
    } else if (event.key === "Enter") {
      take(chosen);
      event.preventDefault();
    } else if (event.key === "Escape") {
      close();
      event.preventDefault();
    }
  });
  editor.addEventListener("focusout", close);
  offer.addEventListener("pointerdown", (event) => {
    event.preventDefault();
    take([...offer.children].indexOf(event.target));
  });

  // --- what was written before this script came ---------------------------------------------------
  document.addEventListener("DOMContentLoaded", () => {
    if ([...editor.elements].some((box) => window.roundling.early.has(box))) soon();
  });

  // --- after each step --------------------------------------------------------------------------
  document.addEventListener("htmx:afterSettle", keep);
  keep();
})();
