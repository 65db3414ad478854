// The picture as it stands, with the words that lie over it, for what is saved and what is printed.
(function () {
  "use strict";

  /** The words over a picture written on a canvas that is so many times as large. */
  function write(pen, words, box, times) {
    for (const word of words) {
      const style = getComputedStyle(word), at = word.getBoundingClientRect(), lines = word.textContent.split("\n");
      const x = (at.left - box.left) * times, y = (at.top - box.top) * times, wide = at.width * times, high = at.height * times;
      pen.fillStyle = style.backgroundColor;
      pen.fillRect(x, y, wide, high);
      pen.fillStyle = style.color;
      pen.font = `${style.fontWeight} ${parseFloat(style.fontSize) * times}px ${style.fontFamily}`;
      pen.textAlign = "center";
      pen.textBaseline = "middle";
      lines.forEach((line, i) => pen.fillText(line, x + wide / 2, y + (i + 0.5) * high / lines.length, wide));
    }
  }

  /** The lines from words to their points, on a canvas that is so many times as large. */
  function rule(pen, leads, times) {
    for (const lead of leads) {
      if (lead.getAttribute("visibility") === "hidden") continue;
      const [x1, y1, x2, y2] = ["x1", "y1", "x2", "y2"].map((name) => lead.getAttribute(name) * times);
      pen.strokeStyle = getComputedStyle(lead).stroke;
      pen.lineWidth = 1.5 * times;
      pen.beginPath();
      pen.moveTo(x1, y1);
      pen.lineTo(x2, y2);
      pen.stroke();
    }
  }

  window.lockarc.shots = {
    mounted() {
      this.printing = { beforeprint: this.lay, afterprint: this.lift };
      for (const [kind, heard] of Object.entries(this.printing)) window.addEventListener(kind, heard);
    },
    beforeUnmount() { for (const [kind, heard] of Object.entries(this.printing)) window.removeEventListener(kind, heard); },
    methods: {
      /** A canvas with the picture drawn fine and its words. */
      picture() {
        const fine = this.fine(), box = this.$el.getBoundingClientRect();
        const canvas = Object.assign(document.createElement("canvas"), { width: fine.width, height: fine.height });
        const pen = canvas.getContext("2d");
        pen.drawImage(fine, 0, 0);
        rule(pen, this.$refs.leads.children, fine.width / box.width);
        write(pen, this.$refs.words.querySelectorAll("span:not([hidden])"), box, fine.width / box.width);
        return canvas;
      },
      /** What WebGL draws is gone when a page is printed: a picture lies in its place meanwhile. */
      lay() {
        this.lift();
        if (this.shown === false) return;
        this.laid = this.picture();
        this.laid.className = "printed";
        this.$el.append(this.laid);
      },
      lift() { this.laid?.remove(); },
    },
  };
})();
