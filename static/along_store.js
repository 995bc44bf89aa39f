// What is under way on this device, and keeping its pages for when there is no network.
// Nothing here is sent anywhere.
"use strict";

document.documentElement.classList.add("scripted");

const along = {};

(() => {
  const PREFIX = "roundling.along.";

  function read(name) {
    try {
      const found = JSON.parse(localStorage.getItem(name));
      return found && typeof found === "object" ? found : null;
    } catch {
      return null;
    }
  }

  along.read = (key) => read(PREFIX + key);

  // Whether it could be kept: private windows and full stores refuse.
  along.write = (key, toy) => {
    try {
      localStorage.setItem(PREFIX + key, JSON.stringify(toy));
      return true;
    } catch {
      return false;
    }
  };

  along.forget = (key) => {
    try {
      localStorage.removeItem(PREFIX + key);
    } catch {
      // Where nothing can be kept there is nothing to forget.
    }
  };

  // All toys under way with their keys, the latest first.
  along.all = () => {
    let names = [];
    try {
      names = Object.keys(localStorage).filter((name) => name.startsWith(PREFIX));
    } catch {
      return [];
    }
    return names
      .map((name) => ({ key: name.slice(PREFIX.length), toy: read(name) }))
      .filter(({ toy }) => toy && typeof toy.address === "string" && toy.address.startsWith("/toys/"))
      .sort((a, b) => (b.toy.when || 0) - (a.toy.when || 0));
  };

  along.clock = (seconds) => {
    const minutes = Math.max(0, Math.round(seconds / 60));
    return { hours: Math.floor(minutes / 60), minutes: minutes % 60 };
  };

  const able = () => window.isSecureContext && "serviceWorker" in navigator && "caches" in window;

  // Asks the worker of this page to do something; resolves with its answer.
  async function ask(message) {
    const ready = await navigator.serviceWorker.ready;
    return new Promise((resolve, reject) => {
      const channel = new MessageChannel();
      channel.port1.onmessage = (event) => (event.data.done ? resolve() : reject(new Error("not kept")));
      ready.active.postMessage(message, [channel.port2]);
    });
  }

  // Keeps this page and its files on the device; resolves with the name of what to say about it.
  along.keepOffline = async (page, files) => {
    if (!able()) return "page_insecure";
    try {
      const worker = "/along/worker.js";
      await navigator.serviceWorker.register(worker, { scope: "/along" });
      await navigator.serviceWorker.register(worker, { scope: location.pathname });
      await ask({ keep: [page, "/along", ...files] });
      return "page_kept";
    } catch {
      if (!navigator.onLine) return "page_offline";
      return "page_not_kept";
    }
  };

  along.forgetPage = async (address, last) => {
    if (!able()) return;
    const worker = await navigator.serviceWorker.getRegistration("/along");
    if (!worker || !worker.active) return;
    worker.active.postMessage({ forget: address, last });
  };
})();
