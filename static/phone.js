// Extras of the phone page; without them it works the same. Ticks stay on this phone, the screen
// stays on while the page is seen.
"use strict";
(() => {
  const steps = [...document.querySelectorAll(".step")];
  const key = (name) => `${location.pathname} ${name}`;
  const read = (name) => {
    try { return JSON.parse(localStorage.getItem(key(name))); } catch { return null; }
  };
  const keep = (name, value) => {
    try { localStorage.setItem(key(name), JSON.stringify(value)); } catch { /* a private window */ }
  };

  // By key: a later revision may have other numbers.
  const done = new Set(read("done") || []);
  const title = (step) => step.querySelector("h2").textContent;
  const hidden = (text) => {
    const span = document.createElement("span");
    span.className = "hide";
    span.textContent = text;
    return span;
  };
  const entries = document.querySelectorAll(".contents a");
  steps.forEach((step, at) => {
    const label = document.createElement("label");
    const box = document.createElement("input");
    box.type = "checkbox";
    box.checked = done.has(step.dataset.key);
    label.className = "done";
    label.append(box, " Done", hidden(`: ${title(step)}`));
    step.querySelector(".moves").lastElementChild.before(label);
    const said = hidden("");
    entries[at].append(said);
    const show = () => {
      entries[at].classList.toggle("is-done", box.checked);
      said.textContent = box.checked ? ", done" : "";
    };
    box.addEventListener("change", () => {
      if (box.checked) done.add(step.dataset.key); else done.delete(step.dataset.key);
      keep("done", [...done]);
      show();
    });
    show();
  });

  // The step that was on the screen last, to go back to after the phone was put away.
  const last = steps.find((step) => step.dataset.key === read("at"));
  const goOn = document.querySelector(".go-on");
  if (last && !location.hash) {
    goOn.hidden = false;
    goOn.firstElementChild.href = `#${last.id}`;
    goOn.firstElementChild.textContent = `Go on: ${title(last)}`;
  }
  const seen = new IntersectionObserver((changes) => {
    const now = changes.find((change) => change.isIntersecting);
    if (now) keep("at", now.target.dataset.key);
  }, { threshold: 0.6 });
  steps.forEach((step) => seen.observe(step));

  // Without wifi a switch would lead away from a page that can't be loaded again.
  document.querySelector(".looks").addEventListener("click", (event) => {
    if (navigator.onLine) return;
    event.preventDefault();
    document.querySelector(".needs").textContent = "There is no wifi now, so the page stays as it is.";
  });

  // Browsers allow it on https and localhost alone.
  const stayOn = () => {
    if (navigator.wakeLock && document.visibilityState === "visible") {
      navigator.wakeLock.request("screen").catch(() => {});
    }
  };
  document.addEventListener("visibilitychange", stayOn);
  stayOn();
})();
