// The form of the PDF: a sheet is made ahead when a hand comes near its button, a refusal is shown
// beside it, and what a designer signs every sheet with is kept in this browser.
"use strict";

(() => {
  // --- made ahead ---
  let ahead = "";

  const addressOf = (button) =>
    button.href || `${button.form.action}?${new URLSearchParams(new FormData(button.form))}`;

  function near(event) {
    const button = event.target.closest?.("[data-ahead]");
    if (!button || addressOf(button) === ahead) return;
    ahead = addressOf(button);
    fetch(ahead, { method: "HEAD" }).catch(() => {});
  }
  for (const kind of ["pointerover", "pointerdown", "focusin"]) document.addEventListener(kind, near);

  // --- refused beside the form, not on a page of its own ---
  document.addEventListener("submit", async (event) => {
    const form = event.target;
    const button = form.querySelector("[data-ahead]");
    if (!button) return;
    event.preventDefault();
    const address = addressOf(button);
    const said = form.querySelector(".problem");
    const asked = await fetch(address, { method: "HEAD" }).catch(() => ({ ok: true }));
    if (asked.ok) {
      said.textContent = "";
      location.assign(address);
    } else {
      said.textContent = await (await fetch(address)).text();
    }
  });

  // --- signed ---
  const KEY = "roundling:signed";
  const signed = () => document.querySelectorAll("[data-kept]");

  function stored() {
    try {
      return JSON.parse(localStorage.getItem(KEY)) || {};
    } catch {
      return {};
    }
  }

  function fill() {
    const was = stored();
    for (const box of signed()) box.value ||= was[box.name] || "";
  }

  document.addEventListener("change", (event) => {
    if (!event.target.matches("[data-kept]")) return;
    const values = Object.fromEntries([...signed()].map((box) => [box.name, box.value.trim()]));
    try {
      localStorage.setItem(KEY, JSON.stringify(values));
    } catch {
      // A full or closed store: the name is written anew next time.
    }
  });
  document.addEventListener("htmx:afterSettle", fill);
  fill();
})();
