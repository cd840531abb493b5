"use strict";
// What a speaker has beside the slides: an overview of all of them, a dark screen, the full screen, and a
// window of notes with a clock, for another screen. `deck` says which slides there are, which one is shown,
// and shows another. Nothing is stored: with the page, everything of it goes.
function presenting(deck) {
  const words = document.querySelector(".bar").dataset;
  const since = { time: Date.now() };
  let notes = null;
  let board = null;

  function element(name, text = "", looks = "") {
    const made = document.createElement(name);
    made.textContent = text;
    if (looks) made.className = looks;
    return made;
  }

  // A figure of the page shown again, small; null for a slide without one.
  function figure(slide) {
    const drawn = slide.querySelector("svg");
    const use = drawn?.querySelector("use");
    const id = use ? use.getAttribute("href") : drawn?.querySelector("g[id]") && `#${drawn.querySelector("g[id]").id}`;
    if (!id || slide.id === "contents") return null;
    const space = "http://www.w3.org/2000/svg";
    const svg = document.createElementNS(space, "svg");
    svg.setAttribute("viewBox", drawn.getAttribute("viewBox"));
    svg.setAttribute("aria-hidden", "true");
    const again = document.createElementNS(space, "use");
    again.setAttribute("href", id);
    svg.append(again);
    return svg;
  }

  function thumbnail(slide, k) {
    const button = element("button", "", "thumb");
    button.type = "button";
    button.setAttribute("aria-label", slide.dataset.says);
    const drawn = figure(slide);
    if (drawn) button.append(drawn);
    const number = slide.querySelector(".number");
    button.append(element("span", number ? number.textContent : slide.dataset.says));
    button.addEventListener("click", () => {
      overview(false);
      deck.show(k);
    });
    return button;
  }

  function overview(open) {
    if (open && board === null) {
      board = element("div", "", "overview");
      board.setAttribute("role", "dialog");
      board.setAttribute("aria-modal", "true");
      board.setAttribute("aria-label", words.overview);
      board.append(...deck.slides.map(thumbnail));
      document.body.append(board);
    }
    document.body.classList.toggle("over", open);
    if (!open) return;
    const here = board.children[deck.at()];
    [...board.children].forEach((one) => one.classList.toggle("here", one === here));
    here.scrollIntoView({ block: "center" });
    here.focus();
  }

  function overviewKeys(event) {
    const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    if (step) {
      const thumbs = [...board.children];
      thumbs[Math.max(0, Math.min(thumbs.length - 1, thumbs.indexOf(document.activeElement) + step))].focus();
    } else if (event.key === "Escape" || event.key === "o") {
      overview(false);
    } else {
      return event.key !== "Enter" && event.key !== " " && event.key !== "Tab";
    }
    return true;
  }

  function fullScreen() {
    if (document.fullscreenElement) document.exitFullscreen();
    else document.documentElement.requestFullscreen?.();
  }

  function clock() {
    const seconds = Math.floor((Date.now() - since.time) / 1000);
    return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
  }

  function openNotes() {
    if (notes && !notes.closed) {
      notes.focus();
      return;
    }
    notes = window.open("", "", "popup,width=560,height=640");
    if (notes === null) return;
    const page = notes.document;
    page.title = `${words.notes}: ${document.title}`;
    page.documentElement.lang = document.documentElement.lang;
    page.head.append(document.querySelector("style").cloneNode(true));
    page.body.className = "notes";
    const again = element("button", words.restart);
    again.type = "button";
    again.addEventListener("click", () => {
      since.time = Date.now();
      tick();
    });
    page.body.append(element("p", "", "clock"), again, element("p", "", "said"), element("p", "", "soon"));
    page.addEventListener("keydown", deck.press);
    follow();
  }

  function tick() {
    if (notes && !notes.closed) notes.document.querySelector(".clock").textContent = clock();
  }

  function follow() {
    document.body.classList.remove("blank");
    if (!notes || notes.closed) return;
    const soon = deck.slides[deck.at() + 1];
    notes.document.querySelector(".said").textContent = deck.slides[deck.at()].dataset.says;
    notes.document.querySelector(".soon").textContent = soon ? `${words.next} ${soon.dataset.says}` : "";
    tick();
  }

  const does = {
    b: () => document.body.classList.toggle("blank"),
    f: fullScreen,
    n: openNotes,
    o: () => overview(true),
  };
  does["."] = does.b;
  for (const button of document.querySelectorAll(".bar [data-key]")) {
    button.addEventListener("click", () => does[button.dataset.key]());
    if (button.dataset.key === "f" && !document.fullscreenEnabled) button.hidden = true;
  }
  window.setInterval(tick, 1000);
  window.addEventListener("pagehide", () => notes?.close());

  // Takes a key; whether it was one of these.
  function takes(event) {
    if (document.body.classList.contains("over")) return overviewKeys(event);
    if (!(event.key in does)) return false;
    does[event.key]();
    return true;
  }
  return { takes, follow };
}
