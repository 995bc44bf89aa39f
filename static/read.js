// Reading a pattern: files dropped or chosen, the text kept in this browser, the way from one
// place that needs a look to the next, and the 3D view. The pages work without it.
"use strict";

document.documentElement.classList.add("scripted");

(() => {
  const KEY = "roundling:read";
  const BOXES = ["text", "words", "yarn", "stitches", "rounds"];
  const { drawable, viewer } = window.roundling;
  const form = () => document.getElementById("read-form");

  // --- the text in the browser's own store ---

  function stored() {
    try {
      return JSON.parse(localStorage.getItem(KEY));
    } catch {
      return null;
    }
  }

  function keep() {
    const { elements } = form();
    const values = Object.fromEntries(BOXES.map((name) => [name, elements[name].value]));
    const read = form().hasAttribute("data-read");
    try {
      if (values.text) localStorage.setItem(KEY, JSON.stringify({ ...values, read }));
      else localStorage.removeItem(KEY);
    } catch {
      // A full or closed store: the page works on without it.
    }
  }

  function restore() {
    const was = stored();
    const { elements } = form();
    if (!was || elements.text.value || form().hasAttribute("data-read")) return;
    for (const name of BOXES) elements[name].value = was[name] ?? "";
    if (was.read) window.htmx.trigger(form(), "submit");
  }

  function forget() {
    try {
      localStorage.removeItem(KEY);
    } catch {
      // Nothing was kept.
    }
    location.assign("/read");
  }

  // --- files ---

  document.addEventListener("change", (event) => {
    if (event.target.id === "file" && event.target.files.length) {
      window.htmx.trigger(form(), "submit");
    }
  });

  const overText = (event) => event.target.id === "text" && event.dataTransfer.types.includes("Files");
  for (const kind of ["dragover", "dragleave", "drop"]) {
    document.addEventListener(kind, (event) => {
      if (!overText(event)) return;
      event.preventDefault();
      event.target.classList.toggle("over", kind === "dragover");
      if (kind !== "drop") return;
      form().elements.file.files = event.dataTransfer.files;
      window.htmx.trigger(form(), "submit");
    });
  }

  // --- from one place that needs a look to the next ---

  const looks = () => [...document.querySelectorAll("[data-look]")];

  function go(step) {
    const all = looks();
    if (!all.length) return;
    const here = all.findIndex((look) => look.contains(document.activeElement));
    const next = here < 0 ? (step > 0 ? 0 : all.length - 1) : (here + step + all.length) % all.length;
    all[next].focus({ preventScroll: true });
    all[next].closest(".line").scrollIntoView({ block: "center" });
  }

  const typing = (element) => element.matches("textarea, input[type=text], select");
  document.addEventListener("keydown", (event) => {
    if (!event.altKey || event.ctrlKey || event.metaKey || typing(event.target)) return;
    if (event.key === "ArrowDown") go(1);
    else if (event.key === "ArrowUp") go(-1);
    else return;
    event.preventDefault();
  });

  document.addEventListener("click", (event) => {
    if (event.target.id === "forget") forget();
    const step = { "look-next": 1, "look-before": -1 }[event.target.id];
    if (!step) return;
    event.preventDefault();
    go(step);
  });
  document.addEventListener("input", (event) => {
    if (event.target.form === form()) keep();
  });

  // --- the 3D view ---

  async function draw() {
    for (const holder of document.querySelectorAll("[data-address]:not([data-drawn])")) {
      holder.dataset.drawn = "yes";
      const stage = holder.closest(".stage");
      const view = viewer({
        holder, still: stage.querySelector(".still"), readout: stage.querySelector(".readout"),
        key: "roundling:camera:read", near: 1.35,
      });
      const body = new URLSearchParams(new FormData(document.getElementById(holder.dataset.form)));
      const answer = await fetch(holder.dataset.address, { method: "POST", body });
      if (answer.ok) await view.show(await answer.json());
    }
  }

  function show(element, block) {
    if (!element) return;
    element.focus({ preventScroll: true });
    element.scrollIntoView({ block });
  }

  // Whether this is in the page since the last time it was asked about.
  function fresh(element) {
    if (!element || element.dataset.seen) return false;
    element.dataset.seen = "yes";
    return true;
  }

  // What was asked for is shown and focused: the line that was changed, the reading, the new text.
  function arrived() {
    const read = fresh(form());
    const anew = fresh(document.getElementById("reworked"));
    if (read) {
      form().elements.text.value ||= tooMuch;
      tooMuch = "";
      keep();
      const { text } = form().elements;
      // Something was written while this text was read: it is shown.
      if (text.value !== text.defaultValue && text.closest("details")) text.closest("details").open = true;
      const { focus } = form().dataset;
      const wrong = form().querySelector("[aria-invalid]");
      if (wrong) show(wrong, "center");
      else if (focus) show(document.getElementById(focus), "center");
      else show(document.getElementById("read-title") || form().elements.text, "center");
    } else if (anew) {
      show(document.getElementById("reworked-title"), "start");
    }
    if (drawable()) draw();
  }

  // What is too much for the server comes back as a sentence beside an empty box: the box keeps it.
  let tooMuch = "";
  document.addEventListener("htmx:beforeSwap", (event) => {
    if (event.detail.xhr.status !== 413) return;
    event.detail.shouldSwap = true;
    event.detail.isError = false;
    event.detail.target = document.getElementById("read-page");
    tooMuch = form().elements.text.value;
  });
  document.addEventListener("htmx:afterSettle", arrived);
  fresh(document.getElementById("reworked"));
  fresh(form());
  if (form().hasAttribute("data-read")) keep();
  // htmx takes the forms in hand when the page is complete; only then can one be handed in.
  document.addEventListener("DOMContentLoaded", restore);
  if (drawable()) draw();
})();
