// The toys under way on this device; each can be forgotten.
"use strict";

(() => {
  const main = document.getElementById("main");
  const list = document.getElementById("under-way");

  function element(name, properties, ...children) {
    const made = Object.assign(document.createElement(name), properties);
    made.append(...children);
    return made;
  }

  function row({ key, toy }) {
    const share = toy.total ? toy.made / toy.total : 0;
    const { hours, minutes } = along.clock(toy.left || 0);
    const time = hours ? `${hours} h ${minutes} min` : `${minutes} min`;
    const how = toy.finished ? "finished" : `${Math.floor(share * 100)} %, about ${time} left`;
    const forget = element("button", { type: "button", className: "second", textContent: "Forget" });
    forget.setAttribute("aria-label", `Forget ${toy.name}`);
    forget.addEventListener("click", () => {
      if (!forget.dataset.sure) {
        forget.dataset.sure = "yes";
        forget.textContent = "Forget its place?";
        forget.setAttribute("aria-label", `Forget the place in ${toy.name}, really`);
        return;
      }
      along.forget(key);
      along.forgetPage(toy.address, along.all().length === 0);
      document.getElementById("said").textContent = `${toy.name} is forgotten.`;
      show();
    });
    const progress = element("progress", { max: 1, value: share });
    progress.setAttribute("aria-label", `Stitches of ${toy.name} made`);
    return element(
      "li",
      {},
      element("a", { href: toy.address, textContent: toy.name }),
      element("small", { textContent: toy.choices || "" }),
      progress,
      element("span", { className: "how", textContent: how }),
      forget,
    );
  }

  function show() {
    const all = along.all();
    list.replaceChildren(...all.map(row));
    document.getElementById("none").hidden = all.length > 0;
  }

  show();
  window.addEventListener("storage", show);
  along.keepOffline("/along", JSON.parse(main.dataset.files));
})();
