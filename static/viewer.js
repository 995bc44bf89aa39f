// A 3D view of fabric: draws a figure in its holder, keeps the camera, and says what round the
// pointer is on. Pages that show figures make one with `roundling.viewer`.
"use strict";

(() => {
  const config = {
    displayModeBar: false, displaylogo: false, showSendToCloud: false,
    plotGlPixelRatio: 1, responsive: true, scrollZoom: true,
  };
  const axis = (range) => ({
    visible: false, range, autorange: false, showspikes: false, showbackground: false,
  });

  function drawable() {
    if (!window.Plotly) return false;
    try {
      const canvas = document.createElement("canvas");
      return Boolean(canvas.getContext("webgl") || canvas.getContext("webgl2"));
    } catch {
      return false;
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

  // `key` names the camera in the browser's store, `turn` is degrees the first view is turned by,
  // `near` how close it is.
  function viewer({ holder, still, readout, key, turn = 0, near = 1.8 }) {
    let hover = [];
    let drawn = false;

    function firstCamera() {
      const angle = (turn * Math.PI) / 180;
      return { eye: { x: -near * Math.sin(angle), y: -near * Math.cos(angle), z: 0.42 },
        center: { x: 0, y: 0, z: 0 }, up: { x: 0, y: 0, z: 1 },
        projection: { type: "perspective" } };
    }

    function camera() {
      try {
        return JSON.parse(sessionStorage.getItem(key)) || firstCamera();
      } catch {
        return firstCamera();
      }
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

    async function show(figure, only = "") {
      hover = figure.hover;
      holder.hidden = false;
      const data = only
        ? figure.data.map((mesh) => ({ ...mesh, visible: mesh.name === only }))
        : figure.data;
      const eye = drawn ? holder.layout.scene.camera : camera();
      await window.Plotly.react(holder, data, layout(figure.reach, eye), config);
      if (!drawn) {
        drawn = true;
        if (still) still.hidden = true;
        holder.on("plotly_hover", say);
        holder.on("plotly_relayout", () => {
          sessionStorage.setItem(key, JSON.stringify(holder.layout.scene.camera));
        });
      }
      window.dispatchEvent(new CustomEvent("roundling:drawn"));
    }

    function face() {
      sessionStorage.removeItem(key);
      window.Plotly.relayout(holder, { "scene.camera": firstCamera() });
    }

    return { show, face };
  }

  window.roundling = { ...window.roundling, viewer, drawable };
})();
