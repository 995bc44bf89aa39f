// What is written before the page's other scripts are there, and htmx has its forms in hand, is
// theirs to take.
"use strict";

window.roundling = { early: new WeakSet(), ready: false };
document.addEventListener("input", (event) => window.roundling.early.add(event.target), true);
document.addEventListener("DOMContentLoaded", () => { window.roundling.ready = true; });
