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

  /** A text in lines that are no wider than there is room. */
  function lines(pen, text, room) {
    const found = [""];
    for (const word of text.split(" ")) {
      const longer = `${found.at(-1)} ${word}`.trimStart();
      if (found.at(-1) && pen.measureText(longer).width > room) found.push(word); else found[found.length - 1] = longer;
    }
    return found;
  }

  /** The views side by side with their captions written under them, as a PNG data address. */
  function picture(views, captions, paper, ink) {
    const shots = views.map((view) => view.picture()), wide = shots.reduce((sum, shot) => sum + shot.width, 0);
    const size = Math.max(16, Math.round(shots[0].width / 55)), line = Math.round(1.5 * size), font = `${size}px system-ui, sans-serif`;
    const canvas = document.createElement("canvas"), pen = canvas.getContext("2d");
    pen.font = font;
    const said = captions.flatMap((text) => lines(pen, text, wide - size));
    canvas.width = wide;
    canvas.height = shots[0].height + line * said.length + line / 2;
    pen.fillStyle = paper;
    pen.fillRect(0, 0, canvas.width, canvas.height);
    let x = 0;
    for (const shot of shots) { pen.drawImage(shot, x, 0); x += shot.width; }
    pen.fillStyle = ink;
    pen.font = font;
    said.forEach((text, i) => pen.fillText(text, size / 2, shots[0].height + line * (i + 1) - size / 4));
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
