// The 3D view of the designer: an island. The server sends the figure; the viewer draws it.
// Without WebGL the still picture stays.
"use strict";

(() => {
  const { form, tidy, drawable, viewer } = window.roundling;
  const holder = document.getElementById("figure");
  const still = document.getElementById("still");
  const apart = document.getElementById("apart");
  const only = () => document.getElementById("only");
  const view = viewer({
    holder, still, readout: document.getElementById("readout"),
    key: "roundling:camera:" + location.pathname, turn: Number(holder.dataset.turn),
  });
  let busy = false;
  let waiting = null;

  async function draw(address) {
    const url = new URL(address, location.href);
    if (apart.checked) url.searchParams.set("view", "apart");
    const answer = await fetch(url);
    if (!answer.ok) return;
    const figure = await answer.json();
    await view.show(figure, only().value);
  }

  // One drawing at a time; of those asked for meanwhile only the last is drawn.
  async function ask(address) {
    if (busy) {
      waiting = address;
      return;
    }
    busy = true;
    try {
      await draw(address);
    } finally {
      busy = false;
      if (waiting) {
        const next = waiting;
        waiting = null;
        ask(next);
      }
    }
  }

  // The part that alone is looked at stays the one, while the toy has it, when the list is new.
  let alone = "";
  function lookOn() {
    const list = only();
    if ([...list.options].some((option) => option.value === alone)) list.value = alone;
  }

  const settled = () => document.getElementById("figures").dataset.preview;

  function moving() {
    const parameters = new FormData(form);
    tidy(parameters);
    ask(`${location.pathname}/preview.json?${new URLSearchParams(parameters)}`);
  }

  function showStill() {
    const { still: address } = document.getElementById("figures").dataset;
    if (still.getAttribute("src") !== address) still.src = address;
  }

  // Where the toy is drawn in 3D the still picture is for paper: it follows once the hand rests.
  const REST_MS = 800;
  let resting = 0;
  function showStillLater() {
    clearTimeout(resting);
    resting = setTimeout(showStill, REST_MS);
  }

  if (drawable()) {
    ask(settled());
    document.addEventListener("htmx:afterSettle", () => {
      lookOn();
      ask(settled());
      showStillLater();
    });
    window.addEventListener("roundling:moving", moving);
    apart.addEventListener("change", () => ask(settled()));
    document.addEventListener("change", (event) => {
      if (event.target.id !== "only") return;
      alone = event.target.value;
      ask(settled());
    });
    document.getElementById("face-me").addEventListener("click", view.face);
  } else {
    document.addEventListener("htmx:afterSettle", showStill);
    for (const tool of document.querySelectorAll(".stage-tools, .readout")) tool.hidden = true;
  }
})();
