// What a designer signs every sheet with is kept in this browser, and sent only with a sheet.
"use strict";

(() => {
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
