"use strict";

// Zoom, pan and read a marker: its picture is put into the page, so that each piece can be reached.
(() => {
  const LARGEST = 12;
  const STEP = 1.4;

  const enlarged = (cloth, to, at) => {
    const svg = cloth.firstElementChild;
    const before = Number(cloth.dataset.times || 1);
    const times = Math.min(LARGEST, Math.max(1, to));
    const [x, y] = at || [cloth.clientWidth / 2, cloth.clientHeight / 2];
    const left = (cloth.scrollLeft + x) * (times / before) - x;
    const top = (cloth.scrollTop + y) * (times / before) - y;
    const share = Number(cloth.dataset.share);
    svg.style.width = `${100 * times * share}%`;
    svg.style.minWidth = `${22 * times * share}rem`;
    cloth.dataset.times = times;
    cloth.scrollLeft = left;
    cloth.scrollTop = top;
  };
  // At first all of the picture shows: a tall one is narrower than its frame.
  const fitted = (cloth) => {
    const { width, height } = cloth.firstElementChild.viewBox.baseVal;
    const room = 0.88 * window.innerHeight * (width / height);
    cloth.dataset.share = Math.min(1, room / cloth.clientWidth).toFixed(4);
    enlarged(cloth, 1);
  };
  const changed = (cloth, how, at) => {
    const times = Number(cloth.dataset.times || 1);
    enlarged(cloth, { in: times * STEP, out: times / STEP, fit: 1 }[how], at);
  };

  const keys = { "+": "in", "=": "in", "-": "out", _: "out", 0: "fit" };
  const byKeys = (cloth) => cloth.addEventListener("keydown", (event) => {
    if (!(event.key in keys) || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    changed(cloth, keys[event.key]);
  });

  const byWheel = (cloth) => cloth.addEventListener("wheel", (event) => {
    if (!event.ctrlKey) return;
    event.preventDefault();
    const box = cloth.getBoundingClientRect();
    const at = [event.clientX - box.left, event.clientY - box.top];
    changed(cloth, event.deltaY < 0 ? "in" : "out", at);
  }, { passive: false });

  // A finger scrolls by itself; the mouse drags the cloth.
  const byDrag = (cloth) => {
    let from = null;
    cloth.addEventListener("pointerdown", (event) => {
      if (event.pointerType !== "mouse" || event.button !== 0) return;
      from = [event.clientX + cloth.scrollLeft, event.clientY + cloth.scrollTop];
    });
    window.addEventListener("pointermove", (event) => {
      if (!from) return;
      cloth.scrollLeft = from[0] - event.clientX;
      cloth.scrollTop = from[1] - event.clientY;
    });
    window.addEventListener("pointerup", () => { from = null; });
  };

  const toldOf = (piece) => piece.querySelector(":scope > title").textContent;

  // One stop of the tab key for all pieces; arrows go from one to the next.
  const byPiece = (cloth, line) => {
    const pieces = [...cloth.querySelectorAll("g.piece")];
    pieces.forEach((piece, number) => {
      piece.setAttribute("tabindex", number === 0 ? "0" : "-1");
      piece.setAttribute("role", "img");
      piece.setAttribute("aria-label", toldOf(piece));
      const tell = () => { line.textContent = toldOf(piece); };
      piece.addEventListener("focus", tell);
      piece.addEventListener("pointerenter", tell);
      piece.addEventListener("keydown", (event) => {
        const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
        const to = { Home: 0, End: pieces.length - 1 }[event.key]
          ?? (step ? (number + step + pieces.length) % pieces.length : null);
        if (to === null) return;
        event.preventDefault();
        event.stopPropagation();
        piece.setAttribute("tabindex", "-1");
        pieces[to].setAttribute("tabindex", "0");
        pieces[to].focus();
      });
    });
  };

  const opened = async (figure) => {
    const cloth = figure.querySelector(".view");
    const image = cloth.querySelector("img");
    if (!image) return;
    const answer = await fetch(image.getAttribute("src"));
    if (!answer.ok) return;  // the picture that is there stays
    const drawn = new DOMParser().parseFromString(await answer.text(), "image/svg+xml");
    const svg = document.importNode(drawn.documentElement, true);
    svg.removeAttribute("aria-labelledby");
    svg.setAttribute("role", "group");
    svg.setAttribute("aria-label", image.alt);
    svg.setAttribute("class", "drawn");
    svg.querySelector(":scope > title").remove();  // else it shows beside every piece
    svg.removeAttribute("width");
    svg.removeAttribute("height");
    if (!image.isConnected) return;
    image.replaceWith(svg);
    fitted(cloth);
    byKeys(cloth);
    byWheel(cloth);
    byDrag(cloth);
    byPiece(cloth, figure.querySelector(".piece-line"));
    const buttons = figure.querySelector(".zoom");
    buttons.hidden = false;
    buttons.addEventListener("click", (event) => {
      const how = event.target.dataset.zoom;
      if (how) changed(cloth, how);
    });
  };

  window.openPictures = (place) => {
    for (const figure of place.querySelectorAll(".marker")) opened(figure);
  };
  window.openPictures(document);
})();
