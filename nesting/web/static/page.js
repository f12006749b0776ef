"use strict";

// Lays without leaving the page: the choice goes into the address, answers come as events.
(() => {
  const form = document.getElementById("choose");
  const state = document.getElementById("state");
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

  const stopped = (words) => {
    close();
    share.hidden = true;
    document.getElementById("stop").hidden = true;
    state.textContent = words;
  };

  const told = (event) => {
    const now = JSON.parse(event.data);
    job = now.job;
    if (now.answer) found.innerHTML = now.answer;
    share.hidden = false;
    share.value = now.share;
    searching.hidden = false;
    document.getElementById("stop").hidden = false;
    if (now.state === "failed") {
      searching.hidden = true;
      stopped(now.sentence);
    } else if (now.state === "done" || now.state === "stopped") {
      stopped(`Searched for ${Math.round(now.seconds)} s.`);
    } else if (now.state === "waiting") {
      state.textContent = "Others are laying too; yours comes next.";
    } else {
      state.textContent = now.answer || found.childElementCount
        ? "Looking for a shorter one ..."
        : "Laying ...";
    }
  };

  const live = (asked, more) => {
    close();
    state.textContent = "Laying ...";
    source = new EventSource(`/live?${asked}${more}`);
    source.addEventListener("state", told);
    source.addEventListener("problem", (event) => {
      searching.hidden = true;
      stopped(JSON.parse(event.data).sentence);
    });
    source.onerror = () => stopped("The program does not answer; is it still running?");
  };

  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const asked = query();
    history.pushState(null, "", `/?${asked}`);
    found.replaceChildren();
    live(asked, "");
    state.scrollIntoView({ block: "center" });
  });

  document.getElementById("pattern").addEventListener("change", (event) => {
    location.href = `/?pattern=${encodeURIComponent(event.target.value)}`;
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
