// Wires the page: edits are worked out as they are typed, buttons change parts of the page.
// Without scripts every button still works: the form posts and the page comes back whole.
import { post, outdate } from "./parts.js";
import { grow, jump, onEdit, undoText, remember, unsaved, saved } from "./editor.js";
import { openWorking } from "./working.js";

const PAUSE_MS = 150;
const form = document.getElementById("job");
document.documentElement.classList.add("scripted");
grow();

let timer = 0;
onEdit(() => {
  outdate();
  clearTimeout(timer);
  timer = setTimeout(() => post("/design"), PAUSE_MS);
});

form.addEventListener("change", (event) => {
  if (event.target.name === "units") post("/design");
});

// Buttons outside the form belong to it by their form attribute.
form.addEventListener("submit", async (event) => {
  const button = event.submitter;
  const path = new URL(button?.formAction || form.action).pathname;
  if (path === "/download") return;
  event.preventDefault();
  clearTimeout(timer);
  await act(path, button);
});

async function act(path, button) {
  const text = form.elements.text.value;
  const fields = button?.name ? { [button.name]: button.value } : {};
  if (path === "/undo") fields.before = undoText() ?? "";
  const done = await post(path, fields);
  if (!done) return;
  if (path === "/mend" && done.newText) remember(text);
  if (path === "/save") saved(done.disk, text);
}

document.addEventListener("click", (event) => {
  const link = event.target.closest("a");
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
  if (link.matches(".jump")) {
    event.preventDefault();
    jump(Number(link.dataset.start), Number(link.dataset.end));
  } else if (link.matches("[data-working]")) {
    event.preventDefault();
    openWorking(link);
  }
});

document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.altKey || event.key.toLowerCase() !== "s") return;
  event.preventDefault();
  const save = document.getElementById("save");
  form.requestSubmit(save ?? form.querySelector("[formaction='/download']"));
});

window.addEventListener("beforeunload", (event) => {
  if (unsaved()) event.preventDefault();
});
