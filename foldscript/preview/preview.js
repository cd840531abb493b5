// The preview's page: takes news from the server, fetches the pictures it does not know, and puts all
// of them up at once. It stores nothing and asks nobody but the server it came from.
"use strict";

const $ = (id) => document.getElementById(id);
const models = new Map(); // key -> last message
const pictures = new Map(); // name -> promise of an <svg>
const KEPT = 300;
let chosen = null; // the model on the table
let turn = 0;

function picture(name) {
  if (!pictures.has(name)) {
    const made = fetch(`/picture/${name}`)
      .then((answer) => (answer.ok ? answer.text() : Promise.reject(new Error(answer.statusText))))
      .then((text) => new DOMParser().parseFromString(text, "image/svg+xml").documentElement);
    made.catch(() => pictures.delete(name));
    pictures.set(name, made);
    if (pictures.size > KEPT) pictures.delete(pictures.keys().next().value);
  }
  return pictures.get(name);
}

async function frame(told, kind, before) {
  const figure = document.createElement("figure");
  figure.className = kind;
  figure.dataset.name = told.name;
  figure.append(document.importNode(await picture(told.name), true));
  if (before.size && !before.has(told.name)) figure.classList.add("new");
  return figure;
}

const names = (place) => new Set([...place.querySelectorAll("figure")].map((f) => f.dataset.name));

async function show() {
  const mine = ++turn;
  const told = models.get(chosen);
  listModels();
  if (!told) return;
  const pages = $("pages"), close = $("close");
  const same = pages.dataset.key === told.key;
  const before = same ? names(pages) : new Set();
  let sheets, near;
  try {
    sheets = await Promise.all(told.pages.map((p) => frame(p, "page", before)));
    near = await Promise.all(told.close.map((p) => frame(p, "step", new Set())));
  } catch {
    return; // newer pictures are on their way
  }
  if (mine !== turn) return;
  told.pages.forEach((p, k) => {
    sheets[k].setAttribute("aria-label", `Page ${p.label}`);
    sheets[k].setAttribute("role", "group");
  });
  told.close.forEach((p, k) => {
    const words = document.createElement("figcaption");
    words.textContent = `Step ${p.label}`;
    near[k].prepend(words);
  });
  pages.replaceChildren(...sheets);
  pages.dataset.key = told.key;
  pages.classList.toggle("old", told.old);
  const caption = document.createElement("p");
  caption.textContent = told.words;
  close.replaceChildren(...near, caption);
  close.hidden = near.length === 0;
  showTroubles(told);
  showSolid(told);
  $("title").textContent = told.title;
  document.title = `${told.troubles.some((t) => t.error) ? "! " : ""}${told.title}`;
  $("state").textContent = told.old
    ? "The pages are those of the last text that folded."
    : `${told.key} · ${told.pages.length === 1 ? "1 page" : `${told.pages.length} pages`}`;
  document.body.dataset.shown = String(mine);
  soon();
}

// The server makes first what is in view: it is told which parts of which pages, the largest before the others.
let saidLast = "";
let pause = 0;

function sayWhatIsInView() {
  const told = models.get(chosen);
  if (!told || document.hidden) return;
  const bar = document.querySelector("header").getBoundingClientRect().bottom;
  const seen = [...document.querySelectorAll("figure.page")].map((page, number) => {
    const box = page.getBoundingClientRect();
    const top = Math.max(box.top, bar), bottom = Math.min(box.bottom, innerHeight);
    const part = (y) => Math.round((100 * (y - box.top)) / box.height);
    return { area: (bottom - top) * box.width, name: `${number}.${part(top)}.${part(bottom)}`, some: bottom > top };
  });
  const largest = seen.filter((page) => page.some).sort((a, b) => b.area - a.area).slice(0, 16);
  const address = `/in-view/${largest.map((page) => page.name).join("-")}/${encodeURIComponent(told.key)}`;
  if (largest.length === 0 || address === saidLast) return;
  saidLast = address;
  fetch(address, { method: "POST" }).catch(() => { saidLast = ""; });
}

function soon() {
  clearTimeout(pause);
  pause = setTimeout(sayWhatIsInView, 120);
}
addEventListener("scroll", soon, { passive: true });
addEventListener("resize", soon);
document.addEventListener("visibilitychange", soon);

// The finished model, where it stands in space, to be turned.
function showSolid(told) {
  const place = $("solid");
  place.hidden = !told.solid;
  if (place.dataset.solid === told.solid || !told.solid) return;
  place.dataset.solid = told.solid;
  const box = document.createElement("div");
  box.className = "turned";
  box.dataset.solid = told.solid;
  box.setAttribute("aria-label", "The finished model: drag to turn it, or use the arrow keys.");
  const words = document.createElement("p");
  words.textContent = "The finished model: drag to turn it, or use the arrow keys.";
  place.replaceChildren(words, box);
  place.hidden = !turnable(box);
}

function showTroubles(told) {
  const boxes = told.troubles.map((trouble) => {
    const box = document.createElement("article");
    box.className = trouble.error ? "trouble error" : "trouble";
    const head = document.createElement("h2");
    head.textContent = trouble.line ? `Line ${trouble.line}` : trouble.error ? "Wrong" : "Good to know";
    const text = document.createElement("pre");
    text.textContent = trouble.text;
    box.append(head, text);
    return box;
  });
  $("troubles").replaceChildren(...boxes);
  $("troubles").hidden = boxes.length === 0;
}

function listModels() {
  const rows = [...models.values()].sort((a, b) => (a.key < b.key ? -1 : 1));
  $("models").hidden = rows.length < 2;
  const focused = document.activeElement?.dataset?.key;
  const buttons = rows.map((told) => {
    const button = document.createElement("button");
    button.type = "button";
    button.dataset.key = told.key;
    button.textContent = told.title;
    button.title = told.key;
    if (told.troubles.some((t) => t.error)) button.className = "wrong";
    if (told.key === chosen) button.setAttribute("aria-current", "true");
    return button;
  });
  $("models").replaceChildren(...buttons);
  if (focused) buttons.find((b) => b.dataset.key === focused)?.focus();
}

$("models").addEventListener("click", (event) => {
  const key = event.target.dataset.key;
  if (key) {
    chosen = key;
    show();
  }
});

const known = new Set(); // models whose first pages have come: later news of them is a change
const news = new EventSource("/news");
news.onmessage = (event) => {
  const told = JSON.parse(event.data);
  if (told.gone) {
    models.delete(told.key);
    if (chosen === told.key) chosen = models.keys().next().value ?? null;
    show();
    return;
  }
  const changed = known.has(told.key);
  models.set(told.key, told);
  known.add(told.key);
  if (chosen === null || (changed && told.key !== chosen)) {
    chosen = told.key; // what was saved last is what one wants to see
  }
  if (told.key === chosen) show();
  else listModels();
};
news.onerror = () => {
  $("state").textContent = "The preview has stopped, or cannot be reached. Trying again.";
};
news.onopen = () => {
  saidLast = "";
  if (models.size) $("state").textContent = "";
};
