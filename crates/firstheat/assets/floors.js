// Pictures and readings of one's own beside those of the design. Nothing leaves the page.
// Pictures are decoded from the file and painted: no address is made that the policy must allow.
const photos = document.getElementById("photos");
const shots = document.getElementById("shots");
const readings = document.getElementById("readings");
photos.hidden = false;
readings.hidden = false;

// Longest side of a painted picture: enough for any screen, little for a phone's memory.
const LARGEST = 1600;

document.getElementById("picked").addEventListener("change", async (event) => {
  const files = [...event.target.files];
  event.target.value = "";
  for (const file of files) shots.append(await shot(file));
});

async function shot(file) {
  const figure = document.createElement("figure");
  const words = document.createElement("figcaption");
  words.textContent = `${file.name} `;
  const away = document.createElement("button");
  away.type = "button";
  away.textContent = "Take away";
  away.setAttribute("aria-label", `Take away ${file.name}`);
  away.addEventListener("click", () => {
    figure.remove();
    document.getElementById("picked").focus();
  });
  words.append(away);
  try {
    const picture = await createImageBitmap(file);
    const scale = Math.min(1, LARGEST / Math.max(picture.width, picture.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(picture.width * scale);
    canvas.height = Math.round(picture.height * scale);
    canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
    picture.close();
    canvas.setAttribute("role", "img");
    canvas.setAttribute("aria-label", `your picture ${file.name}`);
    figure.append(canvas);
  } catch {
    words.prepend("This is no picture that the browser can read: ");
  }
  figure.append(words);
  return figure;
}

readings.addEventListener("input", (event) => {
  const field = event.target;
  const told = field.parentElement.querySelector("output");
  const apart = field.valueAsNumber - Number(field.dataset.design);
  const sign = apart > 0 ? "+" : apart < 0 ? "−" : "±";
  const words = `${sign}${Math.abs(apart).toFixed(1)} ${field.dataset.unit} to the design`;
  told.textContent = Number.isFinite(apart) ? words : "";
});
