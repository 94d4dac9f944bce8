"use strict";
// A filter by severity and place above each punch list. Without script the whole list stands there.
(() => {
  const make = (tag, attributes, ...children) => {
    const made = Object.assign(document.createElement(tag), attributes);
    made.append(...children);
    return made;
  };
  const seen = (findings, key) => [...new Set(findings.map((one) => one.dataset[key]))];
  for (const list of document.querySelectorAll("[data-findings]")) {
    const findings = [...list.querySelectorAll("[data-severity]")];
    if (findings.length < 2) continue;
    const tied = [...list.querySelectorAll("[data-tied]")];
    const there = [...seen(findings, "severity"), ...seen(tied, "tied")];
    const severities = ["hazard", "correction", "advice"].filter((one) => there.includes(one));
    const boxes = severities.map((severity) => make("input", { type: "checkbox", checked: true, value: severity }));
    const place = make("select", {}, make("option", { value: "" }, "everywhere"));
    place.append(...seen(findings, "station").map((station) => make("option", { value: station }, station)));
    const told = make("span", { role: "status" });
    const apply = () => {
      const wanted = new Set(boxes.filter((box) => box.checked).map((box) => box.value));
      let shown = 0;
      for (const one of findings) {
        const there = place.value === "" || place.value === one.dataset.station;
        // what hangs on a finding is shown with it, so that one sees what it hangs on
        const hung = [...one.querySelectorAll("[data-tied]")];
        for (const other of hung) other.hidden = !wanted.has(other.dataset.tied);
        const kept = hung.filter((other) => !other.hidden).length;
        const own = wanted.has(one.dataset.severity) ? 1 : 0;
        one.hidden = !there || own + kept === 0;
        shown += one.hidden ? 0 : own + kept;
      }
      for (const station of list.querySelectorAll("div.station")) {
        station.hidden = !station.querySelector("[data-severity]:not([hidden])");
      }
      told.textContent = shown + " of " + (findings.length + tied.length) + " shown";
    };
    const bar = make("div", { className: "filter", role: "group" });
    bar.setAttribute("aria-label", "Show");
    bar.append(...boxes.map((box) => make("label", {}, box, box.value)), make("label", {}, "Place ", place), told);
    bar.addEventListener("change", apply);
    list.querySelector("h2, h3").after(bar);
    apply();
    // a link to a finding that is filtered away brings it back
    addEventListener("hashchange", () => {
      const aim = document.getElementById(decodeURIComponent(location.hash.slice(1)));
      const one = aim && aim.closest("[data-severity]");
      if (one && (one.hidden || aim.hidden) && list.contains(one)) {
        for (const box of boxes) box.checked = true;
        place.value = "";
        apply();
        aim.scrollIntoView();
      }
    });
  }
})();
