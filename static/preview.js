// The 3D view: an island. The server sends the figure; this draws it, keeps the camera, and says
// what round the pointer is on. Without WebGL the still picture stays.
"use strict";

(() => {
  const { form, tidy } = window.roundling;
  const holder = document.getElementById("figure");
  const still = document.getElementById("still");
  const readout = document.getElementById("readout");
  const apart = document.getElementById("apart");
  const only = () => document.getElementById("only");
  const config = {
    displayModeBar: false, displaylogo: false, showSendToCloud: false,
    plotGlPixelRatio: 1, responsive: true, scrollZoom: true,
  };
  const axis = (range) => ({
    visible: false, range, autorange: false, showspikes: false, showbackground: false,
  });
  const key = "roundling:camera:" + location.pathname;
  const drawable = () => {
    try {
      const canvas = document.createElement("canvas");
      return Boolean(canvas.getContext("webgl") || canvas.getContext("webgl2"));
    } catch {
      return false;
    }
  };
  let hover = [];
  let drawn = false;
  let busy = false;
  let waiting = null;

  function firstCamera() {
    const turn = (Number(holder.dataset.turn) * Math.PI) / 180;
    return { eye: { x: -1.8 * Math.sin(turn), y: -1.8 * Math.cos(turn), z: 0.42 },
      center: { x: 0, y: 0, z: 0 }, up: { x: 0, y: 0, z: 1 }, projection: { type: "perspective" } };
  }

  function camera() {
    try {
      return JSON.parse(sessionStorage.getItem(key)) || firstCamera();
    } catch {
      return firstCamera();
    }
  }

  function layout(reach, eye) {
    return {
      margin: { l: 0, r: 0, t: 0, b: 0 }, paper_bgcolor: "rgba(0,0,0,0)", showlegend: false,
      uirevision: "same", hovermode: "closest",
      scene: {
        xaxis: axis(reach[0]), yaxis: axis(reach[1]), zaxis: axis(reach[2]), aspectmode: "cube",
        bgcolor: "rgba(0,0,0,0)", dragmode: "orbit", uirevision: "same", camera: eye,
      },
    };
  }

  function chosen(figure) {
    const part = only().value;
    if (!part) return figure.data;
    return figure.data.map((mesh) => ({ ...mesh, visible: mesh.name === part }));
  }

  function say(event) {
    const point = event.points[0];
    const row = hover[point.curveNumber];
    if (!row) return;
    const at = Math.floor(point.pointNumber / row.segments) % row.rows;
    readout.value = row.rounds.length
      ? `${row.label} · round ${row.rounds[at]} · ${row.counts[at]} stitches`
      : row.label;
  }

  async function draw(address) {
    const url = new URL(address, location.href);
    if (apart.checked) url.searchParams.set("view", "apart");
    const answer = await fetch(url);
    if (!answer.ok) return;
    const figure = await answer.json();
    hover = figure.hover;
    holder.hidden = false;
    const eye = drawn ? holder.layout.scene.camera : camera();
    await window.Plotly.react(holder, chosen(figure), layout(figure.reach, eye), config);
    if (!drawn) {
      drawn = true;
      still.hidden = true;
      holder.on("plotly_hover", say);
      holder.on("plotly_relayout", () => {
        sessionStorage.setItem(key, JSON.stringify(holder.layout.scene.camera));
      });
    }
    window.dispatchEvent(new CustomEvent("roundling:drawn"));
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

  const settled = () => document.getElementById("figures").dataset.preview;

  function moving() {
    const parameters = new FormData(form);
    tidy(parameters);
    ask(`${location.pathname}/preview.json?${new URLSearchParams(parameters)}`);
  }

  function showStill() {
    still.src = document.getElementById("figures").dataset.still;
  }

  if (window.Plotly && drawable()) {
    ask(settled());
    document.addEventListener("htmx:afterSettle", () => ask(settled()));
    window.addEventListener("roundling:moving", moving);
    apart.addEventListener("change", () => ask(settled()));
    document.addEventListener("change", (event) => {
      if (event.target.id === "only") ask(settled());
    });
    document.getElementById("face-me").addEventListener("click", () => {
      sessionStorage.removeItem(key);
      window.Plotly.relayout(holder, { "scene.camera": firstCamera() });
    });
  } else {
    document.addEventListener("htmx:afterSettle", showStill);
    for (const tool of document.querySelectorAll(".stage-tools, .readout")) tool.hidden = true;
  }
})();
