// Sliders, boxes and resets of the designer. The form works without this script; with it a slider
// follows its box, the toy follows the slider, and the address follows when the hand comes to rest.
"use strict";

document.documentElement.classList.add("scripted");

const form = document.getElementById("design");
const box = (range) => form.elements[range.dataset.for];
const rangeOf = (name) => form.querySelector(`[data-for="${name}"]`);

// A browser that goes back puts in what was typed later; the page knows better. What somebody has
// typed by now on a slow machine stays.
const early = [...form.elements].filter((input) => window.roundling.early.has(input));
const typed = early.map((input) => input.value);
form.reset();
early.forEach((input, n) => { input.value = typed[n]; });

let pending = false;
function settle() {
  pending = !window.roundling.ready;
  if (!pending) window.htmx.trigger(form, "settled");
}

// Only what differs from its default goes into the address; empty swatch boxes stay out.
function tidy(parameters) {
  for (const slider of form.querySelectorAll(".slider")) {
    const input = slider.querySelector("input[name]");
    if (parameters.get(input.name) === slider.dataset.default) parameters.delete(input.name);
  }
  for (const name of ["swatch_stitches", "swatch_rounds", "hold", "hold_value"]) {
    if (!parameters.get(name)) parameters.delete(name);
  }
  for (const select of form.querySelectorAll("select")) {
    const usual = select.options[0].value;
    if (parameters.get(select.name) === usual) parameters.delete(select.name);
  }
}

function markChanged(name) {
  const slider = form.elements[name].closest(".slider");
  const named = slider && slider.querySelector("[data-names]");
  if (named) named.textContent = named.dataset.names.split("|")[form.elements[name].value] || "";
  if (slider) slider.querySelector(".reset").hidden = form.elements[name].value === slider.dataset.default;
}

form.addEventListener("input", (event) => {
  const from = event.target;
  if (from.matches(".range")) {
    box(from).value = from.value;
    markChanged(from.dataset.for);
    window.dispatchEvent(new CustomEvent("roundling:moving"));
    return;
  }
  const range = from.name && rangeOf(from.name);
  if (range) {
    if (from.value.trim() !== "" && Number.isFinite(Number(from.value))) range.value = from.value;
    markChanged(from.name);
  }
});

// Sliders that give way to what is held show what they come out as; the others what was set.
let following = {};

function showFollowing() {
  const now = JSON.parse(document.getElementById("holds").dataset.following);
  for (const slider of form.querySelectorAll(".slider")) {
    const input = slider.querySelector("input[name]");
    const follows = input.name in now;
    if (follows) input.value = now[input.name];
    else if (input.value === following[input.name]) input.value = slider.dataset.default;
    else continue;
    rangeOf(input.name).value = input.value;
    slider.classList.toggle("follows", follows);
    markChanged(input.name);
  }
  following = now;
}

form.addEventListener("change", (event) => {
  if (event.target.name === "hold") {
    const chosen = event.target.selectedOptions[0];
    form.elements.hold_value.value = chosen.dataset.now || "";
  }
  if (event.target.name === "units") {
    // The boxes change their unit: the page is drawn anew in it.
    form.submit();
    return;
  }
  settle();
});

form.addEventListener("submit", (event) => {
  event.preventDefault();
  settle();
});

form.addEventListener("click", (event) => {
  const link = event.target.closest("[data-reset]");
  if (!link) return;
  event.preventDefault();
  const input = form.elements[link.dataset.reset];
  input.value = input.closest(".slider").dataset.default;
  rangeOf(link.dataset.reset).value = input.value;
  markChanged(link.dataset.reset);
  input.focus();
  settle();
});

document.addEventListener("htmx:configRequest", (event) => {
  if (event.detail.elt === form) tidy(event.detail.formData || event.detail.parameters);
});

// Sentences arrive beside their controls; the controls say so to those who cannot see them.
document.addEventListener("htmx:afterRequest", () => {
  for (const sentence of form.querySelectorAll(".problem[id]")) {
    const input = form.elements[sentence.id.replace("problem-", "")];
    if (!input || !input.setAttribute) continue;
    const wrong = sentence.textContent.trim() !== "";
    if (wrong) input.setAttribute("aria-invalid", "true");
    else input.removeAttribute("aria-invalid");
    const slider = input.closest(".slider");
    if (slider) slider.classList.toggle("wrong", wrong);
  }
});

// What was open stays open when the figures change; but for the drawings, which are drawn only when
// somebody asks for them.
let open = [];
document.addEventListener("htmx:beforeSwap", () => {
  open = [...document.querySelectorAll("#changes details:not(.drawings)")].map((d) => [d.id, d.open]);
});
document.addEventListener("toggle", (event) => {
  if (!event.target.matches?.(".drawings[open]")) return;
  for (const picture of event.target.querySelectorAll("img[data-src]")) {
    picture.loading = "lazy";
    picture.src = picture.dataset.src;
    picture.hidden = false;
    picture.removeAttribute("data-src");
  }
}, true);
document.addEventListener("htmx:afterSettle", () => {
  showFollowing();
  const boxes = [...document.querySelectorAll("#holds .held input")];
  const fresh = boxes.find((input) => !held.includes(input.name));
  if (fresh) {
    fresh.focus();
    fresh.select();
  }
  held = boxes.map((input) => input.name);
});
document.addEventListener("htmx:afterSwap", () => {
  for (const [id, was] of open) {
    const details = document.getElementById(id);
    if (details) details.open = was;
  }
});

// htmx takes the forms in hand when the page is complete; only then can one be handed in.
document.addEventListener("DOMContentLoaded", () => {
  for (const input of early) input.dispatchEvent(new Event("input", { bubbles: true }));
  if (pending || early.length) settle();
});

let held = [...document.querySelectorAll("#holds .held input")].map((input) => input.name);
showFollowing();

Object.assign(window.roundling, { form, tidy });
