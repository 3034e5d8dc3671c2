// Posts the form and puts the parts that come back in their places.
// Each request has a number; an answer that is not the newest is dropped.
import { setText } from "./editor.js";

const form = document.getElementById("job");
const results = document.getElementById("results");
const status = document.getElementById("status");
let newest = 0;
let flight = null;

// What is under way no longer counts: the text has changed since.
export function outdate() {
  newest += 1;
  flight?.abort();
}

export async function post(path, fields = {}) {
  outdate();
  const number = newest;
  flight = new AbortController();
  const body = new URLSearchParams(new FormData(form));
  body.set("part", "1");
  body.set("good", results.dataset.good === "true" ? "1" : "");
  body.delete("before");
  for (const [name, value] of Object.entries(fields)) body.set(name, value);
  let page;
  try {
    const answer = await fetch(path, { method: "POST", body, signal: flight.signal });
    const text = await answer.text();
    if (number !== newest) return null;
    page = new DOMParser().parseFromString(text, "text/html");
  } catch (error) {
    if (error.name !== "AbortError" && number === newest) {
      tell("firstheat does not answer; is it still running? Your text is kept on this page.");
    }
    return null;
  }
  const parts = page.getElementById("parts");
  if (!parts) {
    tell(page.querySelector(".why")?.textContent ?? "Not understood; your text is kept here.");
    return null;
  }
  return place(parts);
}

function place(parts) {
  const good = parts.dataset.good === "true";
  const held = focused();
  const open = [...document.querySelectorAll("details[open]")].map((it) => it.id);
  const scrolls = [...document.querySelectorAll(".scroll")].map((box) => [where(box), box.scrollLeft]);
  for (const part of parts.querySelectorAll("[data-part]")) {
    const old = document.getElementById(part.id);
    if (!old) continue;
    // Unchanged parts are left alone, so that nothing is read out twice.
    if (unlike(old, part)) old.innerHTML = part.innerHTML;
    old.className = part.className;
  }
  for (const id of open) document.getElementById(id)?.setAttribute("open", "");
  const field = (id) => parts.querySelector(`#${id}[data-field]`);
  const text = field("text");
  if (text) setText(text.value);
  document.getElementById("disk").value = field("disk").value;
  const had = results.dataset.good === "true";
  results.classList.toggle("stale", !good && had);
  if (good) results.dataset.good = "true";
  for (const [name, left] of scrolls) {
    const box = [...document.querySelectorAll(".scroll")].find((it) => where(it) === name);
    if (box) box.scrollLeft = left;
  }
  refocus(held);
  return { good, newText: Boolean(text), disk: field("disk").value };
}

// What a person opened is no difference.
function unlike(old, part) {
  const opened = [...old.querySelectorAll("details[open]")];
  opened.forEach((it) => it.removeAttribute("open"));
  const differs = old.innerHTML !== part.innerHTML;
  if (!differs) opened.forEach((it) => it.setAttribute("open", ""));
  return differs;
}

const where = (box) => box.getAttribute("aria-label");

// What has the focus, in a way that finds it again among new parts.
function focused() {
  const at = document.activeElement;
  if (!at || at === document.body || at.id === "text") return null;
  return { at, id: at.id, path: query(at), words: at.textContent };
}

function query(element) {
  const href = element.getAttribute("href");
  return href ? new URL(href, location.href).searchParams.get("path") ?? href : null;
}

function refocus(held) {
  if (!held || held.at.isConnected) return;
  const same = (it) => (held.path ? query(it) === held.path : it.textContent === held.words);
  const found = held.id
    ? document.getElementById(held.id)
    : [...document.querySelectorAll(held.at.tagName)].find(same);
  // A mend that is done is gone: its place is the note that tells what it did.
  const next = found ?? document.getElementById("note");
  if (!found) next.tabIndex = -1;
  next.focus({ preventScroll: Boolean(found) });
}

function tell(words) {
  status.classList.add("bad");
  status.textContent = words;
}
