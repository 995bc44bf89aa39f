// What the device does while a toy is stitched along: its screen stays on, and it keeps the page.
"use strict";

(() => {
  const main = document.getElementById("main");
  const awake = document.getElementById("awake");
  const awakeSaid = document.getElementById("awake-said");

  let lock = null;
  async function stayAwake() {
    if (!("wakeLock" in navigator)) {
      awake.disabled = true;
      awake.checked = false;
      awakeSaid.textContent = said("screen_cannot");
      return;
    }
    try {
      if (awake.checked && lock === null && document.visibilityState === "visible") {
        lock = await navigator.wakeLock.request("screen");
        lock.addEventListener("release", () => {
          lock = null;
        });
        awakeSaid.textContent = said("screen_on");
      } else if (!awake.checked) {
        if (lock) await lock.release();
        awakeSaid.textContent = "";
      }
    } catch {
      awakeSaid.textContent = said("screen_refused");
    }
  }
  awake.addEventListener("change", stayAwake);
  document.addEventListener("visibilitychange", stayAwake);

  document.getElementById("device").hidden = false;
  stayAwake();
  // What is kept is kept under the design's own address. One that says the same in other words
  // becomes it, so that the page opens again where it stands, without a network too.
  if (location.pathname + location.search !== main.dataset.address) {
    history.replaceState(null, "", main.dataset.address + location.hash);
  }
  along.keepOffline(main.dataset.address, JSON.parse(main.dataset.files)).then((name) => {
    document.getElementById("offline-said").textContent = said(name);
  });
})();
