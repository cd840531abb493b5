"use strict";
(() => {
  const slides = [...document.querySelectorAll(".slide")];
  const back = document.querySelector(".bar .back");
  const on = document.querySelector(".bar .on");
  const place = document.querySelector(".place");
  const progress = document.querySelector("progress");
  const spoken = document.querySelector(".spoken");
  let now = 0;
  let typed = "";
  let typedAt = 0;
  let contents = false;

  function show(index) {
    now = Math.max(0, Math.min(slides.length - 1, index));
    slides.forEach((slide, k) => slide.classList.toggle("now", k === now));
    slides[now].scrollTop = 0;
    place.textContent = `${now + 1} / ${slides.length}`;
    progress.value = now + 1;
    back.disabled = now === 0;
    on.disabled = now === slides.length - 1;
    spoken.textContent = slides[now].dataset.says;
    speaker.follow();
    // The place is kept in the address, so that it is there again when the page is read again; it leaves
    // nothing in the browser's history.
    history.replaceState(null, "", `#${slides[now].id}`);
  }

  // Digits go to a step of the model that is shown, or from the contents to a model; those typed soon after
  // each other make one number.
  function digit(key, time) {
    const goesOn = time - typedAt < 1200;
    contents = slides[now].id === "contents" || (goesOn && contents);
    typed = goesOn ? typed + key : key;
    typedAt = time;
    const goTo = (number) => slides.findIndex(contents
      ? (s) => s.id === `m${number}`
      : (s) => s.dataset.model === slides[now].dataset.model && s.dataset.step.split(" ").includes(number));
    let found = goTo(typed);
    if (found < 0) {
      typed = key;
      found = goTo(typed);
    }
    if (found >= 0) show(found);
  }

  const keys = {
    ArrowRight: () => show(now + 1),
    ArrowDown: () => show(now + 1),
    PageDown: () => show(now + 1),
    ArrowLeft: () => show(now - 1),
    ArrowUp: () => show(now - 1),
    PageUp: () => show(now - 1),
    Backspace: () => show(now - 1),
    Home: () => show(0),
    End: () => show(slides.length - 1),
  };

  function press(event) {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    if (speaker.takes(event)) {
      // it was for the speaker alone
    } else if (document.body.classList.contains("over")) {
      return;
    } else if (event.key in keys) {
      keys[event.key]();
    } else if (event.key === " " || event.key === "Enter") {
      if (event.target.closest?.("button, a")) return;
      show(event.shiftKey ? now - 1 : now + 1);
    } else if (/^[0-9]$/.test(event.key)) {
      digit(event.key, event.timeStamp);
    } else {
      return;
    }
    event.preventDefault();
  }
  document.addEventListener("keydown", press);
  const speaker = presenting({ slides, show, press, at: () => now });

  back.addEventListener("click", () => show(now - 1));
  on.addEventListener("click", () => show(now + 1));

  // A swipe with one finger; up and down still scrolls, two fingers still enlarge.
  let start = null;
  document.addEventListener("touchstart", (event) => {
    start = event.touches.length === 1 ? event.touches[0] : null;
  }, { passive: true });
  document.addEventListener("touchend", (event) => {
    if (start === null) return;
    const end = event.changedTouches[0];
    const across = end.clientX - start.clientX;
    const along = end.clientY - start.clientY;
    start = null;
    if (document.body.classList.contains("over")) return; // the overview scrolls, and leads by its buttons
    if (Math.abs(across) > 48 && Math.abs(across) > 1.5 * Math.abs(along)) show(now + (across < 0 ? 1 : -1));
  }, { passive: true });
  document.addEventListener("touchcancel", () => { start = null; }, { passive: true });

  // Links within the page, such as a table of contents; they leave nothing in the browser's history.
  function follow(hash) {
    const named = slides.findIndex((s) => `#${s.id}` === hash);
    if (named >= 0) show(named);
    return named >= 0;
  }
  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[href^='#']");
    if (link === null || event.ctrlKey || event.shiftKey || event.metaKey || event.altKey) return;
    if (follow(link.getAttribute("href"))) event.preventDefault();
  });
  window.addEventListener("hashchange", () => follow(location.hash));

  document.documentElement.classList.add("deck");
  for (const box of document.querySelectorAll(".turn")) turnable(box);
  if (!follow(location.hash)) show(0);
})();
