"use strict";

// What every page does: another pattern brings its own views, and small answers come in place.
(() => {
  const pattern = document.getElementById("pattern");
  if (pattern) {
    pattern.addEventListener("change", () => {
      const path = location.pathname.split("/")[1];
      const query = new URLSearchParams({ pattern: pattern.value });
      const lang = new URLSearchParams(location.search).get("lang");
      if (lang) query.set("lang", lang);
      location.href = `/${path}?${query}`;
    });
  }

  // Forms whose answer takes a while say so until it comes.
  document.addEventListener("submit", (event) => {
    const place = event.target.querySelector(".waiting");
    if (place) place.textContent = event.target.dataset.wait;
  });
  window.addEventListener("pageshow", () => {
    for (const place of document.querySelectorAll(".waiting")) place.textContent = "";
  });

  const asked = async (link) => {
    const place = document.getElementById(link.dataset.part);
    place.textContent = place.dataset.wait;
    const answer = await fetch(`${link.href}&part=1`);
    const part = document.createElement("template");
    part.innerHTML = await answer.text();
    place.replaceChildren(part.content);
  };
  const linkOf = (event) => event.target.closest && event.target.closest("a[data-part]");

  document.addEventListener("click", (event) => {
    const link = linkOf(event);
    if (!link) return;
    event.preventDefault();
    asked(link);
  });
  document.addEventListener("keydown", (event) => {
    const link = linkOf(event);
    if (!link || event.key !== " ") return;  // a button is pressed by the space bar too
    event.preventDefault();
    asked(link);
  });
})();
