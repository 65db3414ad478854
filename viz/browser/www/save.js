// Saving from the page: the picture, and the page itself as one file that needs nothing else.
(function () {
  "use strict";

  function download(name, href) {
    const link = document.createElement("a");
    link.download = name;
    link.href = href;
    document.body.append(link);
    link.click();
    link.remove();
  }

  function loaded(address) {
    return new Promise((resolve, reject) => {
      const image = new Image();
      image.onload = () => resolve(image);
      image.onerror = () => reject(new Error("the picture could not be read"));
      image.src = address;
    });
  }

  /** The views side by side with their captions written under them, as a PNG data address. */
  async function picture(views, captions, paper, ink) {
    const images = await Promise.all((await Promise.all(views.map((view) => view.picture()))).map(loaded));
    const size = Math.max(16, Math.round(images[0].width / 50)), line = Math.round(1.5 * size);
    const canvas = document.createElement("canvas");
    canvas.width = images.reduce((sum, image) => sum + image.width, 0);
    canvas.height = images[0].height + line * captions.length + line / 2;
    const pen = canvas.getContext("2d");
    pen.fillStyle = paper;
    pen.fillRect(0, 0, canvas.width, canvas.height);
    let x = 0;
    for (const image of images) { pen.drawImage(image, x, 0); x += image.width; }
    pen.fillStyle = ink;
    pen.font = `${size}px system-ui, sans-serif`;
    captions.forEach((text, i) => pen.fillText(text, size / 2, images[0].height + line * (i + 1) - size / 4, canvas.width - size));
    return canvas.toDataURL("image/png");
  }

  function escaped(text) {
    return text.replace(/[&<>"]/g, (c) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" }[c]));
  }

  /** The page as one HTML file: picture, charts, tables and the words that belong to them; it runs no script. */
  async function whole(title, image, captions, parts) {
    const style = await (await fetch("/static/lockarc/page.css")).text();
    const theme = document.documentElement.dataset.theme;
    return `<!doctype html><html lang="en" data-theme="${theme}"><head><meta charset="utf-8">` +
      '<meta name="viewport" content="width=device-width, initial-scale=1">' +
      `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; style-src 'unsafe-inline'">` +
      `<title>${escaped(title)}</title><style>${style}</style></head><body><main class="saved"><h1>${escaped(title)}</h1>` +
      captions.map((text) => `<p>${escaped(text)}</p>`).join("") +
      `<img alt="${escaped(captions.join("; "))}" src="${image}">${parts.join("")}</main></body></html>`;
  }

  window.lockarc.save = { download, picture, whole };
})();
