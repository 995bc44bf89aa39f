// Caption cards: one at a time, by keys, foot switch or touch, with a clock for each.
// Without this script they are a list with links.
"use strict";

document.documentElement.classList.add("scripted");

const deck = document.getElementById("deck");
const cards = [...deck.querySelectorAll(".cue")];
const part = document.getElementById("film-part");
const clock = document.getElementById("film-clock");
const take = document.getElementById("film-take");
const form = document.getElementById("film-form");

const NEXT = ["ArrowRight", "ArrowDown", "PageDown", " ", "Enter"];
const BACK = ["ArrowLeft", "ArrowUp", "PageUp", "Backspace"];

let at = 0;
let begun = null; // when this card's clock began, ms; none before the first step
const spent = new Map(); // seconds on each card that was left

function clockText(seconds) {
  const whole = Math.round(seconds);
  const two = (number) => String(number).padStart(2, "0");
  const hours = Math.floor(whole / 3600);
  const minutes = Math.floor(whole / 60) % 60;
  return hours ? `${hours}:${two(minutes)}:${two(whole % 60)}` : `${minutes}:${two(whole % 60)}`;
}

function tick() {
  const seconds = begun === null ? 0 : (performance.now() - begun) / 1000;
  clock.textContent = clockText(Math.floor(seconds));
  clock.classList.toggle("over", seconds * 1000 > Number(cards[at].dataset.length));
}

function show(wanted, { quiet = false } = {}) {
  at = Math.max(0, Math.min(cards.length - 1, wanted));
  const card = cards[at];
  for (const other of cards) other.hidden = other !== card;
  deck.scrollTop = 0;
  part.value = card.dataset.part;
  document.getElementById("film-length").textContent = clockText(Number(card.dataset.length) / 1000);
  document.getElementById("film-where").textContent = `card ${at + 1} of ${cards.length}`;
  document.getElementById("film-back").disabled = at === 0;
  document.getElementById("film-next").disabled = at === cards.length - 1;
  if (!quiet) {
    const name = card.querySelector(".cue-part span").textContent;
    document.getElementById("film-said").textContent = `${name}. ${card.querySelector(".cue-said").textContent}`;
    history.replaceState(null, "", `#${card.id}`);
  }
  tick();
}

function leave(wanted) {
  if (wanted < 0 || wanted >= cards.length || wanted === at) return;
  const now = performance.now();
  if (begun !== null) {
    spent.set(cards[at].id, (spent.get(cards[at].id) || 0) + (now - begun) / 1000);
    take.disabled = false;
  }
  begun = now;
  stayAwake();
  show(wanted);
}

// A screen that goes dark spoils a take; where it cannot be kept on, nothing is lost but that.
let lock = null;
async function stayAwake() {
  if (lock || !("wakeLock" in navigator)) return;
  try {
    lock = await navigator.wakeLock.request("screen");
    lock.addEventListener("release", () => {
      lock = null;
    });
  } catch {
    lock = null;
  }
}

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.altKey || event.metaKey) return;
  // A foot switch goes on from the list of parts as well, where one was just chosen.
  const typed = event.target.closest("input, select, textarea");
  if (typed && !(typed === part && ["PageDown", "PageUp"].includes(event.key))) return;
  // Space and Enter press what they are on.
  if ([" ", "Enter"].includes(event.key) && event.target.closest("button, a, summary")) return;
  const back = BACK.includes(event.key) || (event.key === " " && event.shiftKey);
  if (back) leave(at - 1);
  else if (NEXT.includes(event.key)) leave(at + 1);
  else if (event.key === "Home") leave(0);
  else if (event.key === "End") leave(cards.length - 1);
  else return;
  event.preventDefault();
});

document.getElementById("film-next").addEventListener("click", () => leave(at + 1));
document.getElementById("film-back").addEventListener("click", () => leave(at - 1));
part.addEventListener("change", () => leave(cards.findIndex((card) => card.id === part.value)));

// A tap on the left third goes back, elsewhere on; a swipe goes as a page is turned.
let down = null;
deck.addEventListener("pointerdown", (event) => {
  down = event.target.closest("button, a") ? null : { x: event.clientX, y: event.clientY };
});
deck.addEventListener("pointerup", (event) => {
  if (down === null) return;
  const [dx, dy] = [event.clientX - down.x, event.clientY - down.y];
  down = null;
  if (String(getSelection())) return;
  if (Math.abs(dy) > 40 && Math.abs(dy) > Math.abs(dx)) return;
  if (Math.abs(dx) > 40) leave(dx < 0 ? at + 1 : at - 1);
  else {
    const box = deck.getBoundingClientRect();
    leave(event.clientX - box.left < box.width / 3 ? at - 1 : at + 1);
  }
});

const full = document.getElementById("film-full");
if (!deck.requestFullscreen) full.hidden = true;
full.addEventListener("click", () => {
  deck.requestFullscreen().catch(() => {
    full.hidden = true;
  });
});

// Empty boxes and usual values stay out of the address.
function address(more = new Map()) {
  const values = new URLSearchParams(new FormData(form));
  for (const [name, value] of [...values]) if (value.trim() === "") values.delete(name);
  for (const [name, usual] of [["pace", "15"], ["faster", "1"], ["begin", "0"]]) {
    if (values.get(name) === usual) values.delete(name);
  }
  for (const [name, value] of more) values.set(name, value);
  return `${new URL(form.action).pathname}?${values}`;
}

form.addEventListener("submit", (event) => {
  event.preventDefault();
  location.assign(address());
});

take.addEventListener("click", () => {
  const lengths = [...spent].map(([id, seconds]) => [`len.${id}`, Math.max(1, seconds).toFixed(1)]);
  location.assign(address(new Map(lengths)));
});

function fromAddress() {
  const found = cards.findIndex((card) => [card.id, encodeURIComponent(card.id)].includes(location.hash.slice(1)));
  if (found >= 0) show(found);
  return found >= 0;
}
window.addEventListener("hashchange", fromAddress);
if (!fromAddress()) show(0, { quiet: true });
setInterval(tick, 250);
