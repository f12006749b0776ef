"use strict";

// Lays without leaving the page: the choice goes into the address, answers come as events.
(() => {
  const form = document.getElementById("choose");
  const state = document.getElementById("state");
  const say = state.dataset;
  const share = document.getElementById("share");
  const searching = document.getElementById("searching");
  const found = document.getElementById("found");
  let source = null;
  let job = null;

  const query = () => {
    const said = new URLSearchParams();
    for (const [name, value] of new FormData(form)) {
      if (value && name !== "plain") said.append(name, value);
    }
    return said.toString();
  };

  const close = () => {
    if (source) source.close();
    source = null;
  };

  const sentence = (told) => `${told.lead} ${told.sentence}`.trim();

  const stopped = (words) => {
    close();
    share.hidden = true;
    document.getElementById("stop").hidden = true;
    state.textContent = words;
  };

  // The old marker stays until the picture of the new one is there, so that nothing jumps.
  const show = (answer) => new Promise((shown) => {
    const next = document.createElement("template");
    next.innerHTML = answer;
    const picture = new Image();
    picture.onload = picture.onerror = () => {
      found.replaceChildren(next.content);
      window.openPictures(found);
      shown();
    };
    picture.src = next.content.querySelector(".view img").getAttribute("src");
  });

  const told = async (event, from) => {
    if (from !== source) return;
    const now = JSON.parse(event.data);
    job = now.job;
    if (now.answer) await show(now.answer);
    if (from !== source) return;
    share.hidden = false;
    share.value = now.share;
    searching.hidden = false;
    document.getElementById("stop").hidden = false;
    if (now.state === "failed") {
      searching.hidden = true;
      stopped(sentence(now));
    } else if (now.state === "done" || now.state === "stopped") {
      stopped(say.over.replace("{seconds}", Math.round(now.seconds)));
    } else if (now.state === "waiting") {
      state.textContent = say.waiting;
    } else {
      state.textContent = now.answer || found.childElementCount
        ? say.shorter
        : say.laying;
    }
  };

  const live = (asked, more) => {
    close();
    state.textContent = say.laying;
    source = new EventSource(`/live?${asked}${more}`);
    const from = source;
    let line = Promise.resolve();  // one event after another: no words before their marker
    from.addEventListener("state", (event) => {
      line = line.then(() => told(event, from));
    });
    source.addEventListener("problem", (event) => {
      searching.hidden = true;
      stopped(sentence(JSON.parse(event.data)));
    });
    from.onerror = () => {
      from.close();
      line = line.then(() => {
        if (from === source) stopped(say.silent);
      });
    };
  };

  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const asked = query();
    history.pushState(null, "", `/?${asked}`);
    for (const link of document.querySelectorAll("[data-lang]")) {
      const query = new URLSearchParams(asked);
      query.set("lang", link.dataset.lang);
      link.href = `/?${query}`;
    }
    found.replaceChildren();
    live(asked, "");
    state.scrollIntoView({ block: "center" });
  });

  for (const button of document.querySelectorAll("[data-width]")) {
    button.addEventListener("click", () => {
      form.elements.width.value = button.dataset.width;
      form.elements.width.focus();
    });
  }

  document.getElementById("stop").addEventListener("click", () => {
    if (job) fetch(`/jobs/${job}/stop`, { method: "POST" });
  });
  document.getElementById("longer").addEventListener("click", () => live(query(), "&long=1"));
  window.addEventListener("popstate", () => location.reload());
  window.addEventListener("pagehide", close);

  if (found.dataset.live) live(found.dataset.live, "");
})();
