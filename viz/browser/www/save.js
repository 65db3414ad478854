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

  /** The page as one HTML file in the shell that all pages share: picture, charts, tables and the words that belong to them. */
  function whole(shell, title, image, captions, parts) {
    const page = new DOMParser().parseFromString(shell, "text/html");
    const make = (kind, text) => Object.assign(page.createElement(kind), { textContent: text });
    page.documentElement.dataset.theme = document.documentElement.dataset.theme;
    page.title = title;
    const main = Object.assign(page.createElement("main"), { className: "saved" });
    main.append(make("h1", title), ...captions.map((text) => make("p", text)));
    main.append(Object.assign(page.createElement("img"), { alt: captions.join("; "), src: image }));
    main.insertAdjacentHTML("beforeend", parts.join(""));
    page.body.replaceChildren(main);
    return "<!doctype html>" + page.documentElement.outerHTML;
  }

  window.lockarc.save = { download, picture, whole };
})();
