// Shows the working of a number over the page; its own address shows the same.
const dialog = document.getElementById("dialog");

export async function openWorking(link) {
  let page;
  try {
    const answer = await fetch(link.href);
    page = new DOMParser().parseFromString(await answer.text(), "text/html");
  } catch {
    location.href = link.href;
    return;
  }
  const body = page.getElementById("working") ?? page.querySelector("main");
  const close = document.createElement("button");
  close.type = "button";
  close.className = "close";
  close.textContent = "Close";
  close.addEventListener("click", () => dialog.close());
  dialog.replaceChildren(close, document.adoptNode(body));
  if (!dialog.open) dialog.showModal();
  dialog.scrollTop = 0;
}

dialog.addEventListener("click", (event) => {
  if (event.target === dialog) dialog.close();
});
