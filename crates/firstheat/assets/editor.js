// The text area: it grows with its lines, takes jumps, and remembers texts to go back to.
const area = document.getElementById("text");
const disk = document.getElementById("disk");
const undo = document.getElementById("undo");
const before = document.getElementById("before");
const past = before.value ? [before.value] : [];
let kept = area.value;

// The area never scrolls by itself, so that line numbers stand beside their lines.
export function grow() {
  area.rows = area.value.split("\n").length + 1;
  undo.hidden = past.length === 0;
  document.documentElement.classList.toggle("unsaved", unsaved());
}

export function onEdit(then) {
  area.addEventListener("input", () => {
    grow();
    then();
  });
}

export function setText(text) {
  if (area.value === text) return;
  const at = Math.min(area.selectionStart, text.length);
  area.value = text;
  area.setSelectionRange(at, at);
  grow();
}

export function jump(start, end) {
  const top = () => {
    const line = area.value.slice(0, start).split("\n").length - 1;
    return line * parseFloat(getComputedStyle(area).lineHeight);
  };
  area.focus({ preventScroll: true });
  area.setSelectionRange(start, Math.max(end, start));
  const box = area.closest(".editor");
  box.scrollTop = top() - box.clientHeight / 3;
  box.scrollLeft = 0;
  box.scrollIntoView({ block: "nearest" });
}

export function remember(text) {
  past.push(text);
  grow();
}

export function undoText() {
  const text = past.pop();
  grow();
  return text;
}

export function unsaved() {
  return area.value !== kept;
}

export function saved(key, text) {
  // The key changes only if the text went to disk.
  if (key && key !== disk.dataset.last) kept = text;
  disk.dataset.last = key;
  grow();
}
disk.dataset.last = disk.value;
