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
    const severities = ["hazard", "correction", "advice"].filter((one) => seen(findings, "severity").includes(one));
    const boxes = severities.map((severity) => make("input", { type: "checkbox", checked: true, value: severity }));
    const place = make("select", {}, make("option", { value: "" }, "everywhere"));
    place.append(...seen(findings, "station").map((station) => make("option", { value: station }, station)));
    const told = make("span", { role: "status" });
    const apply = () => {
      const wanted = new Set(boxes.filter((box) => box.checked).map((box) => box.value));
      let shown = 0;
      for (const one of findings) {
        one.hidden = !wanted.has(one.dataset.severity) || (place.value !== "" && place.value !== one.dataset.station);
        shown += one.hidden ? 0 : 1;
      }
      for (const station of list.querySelectorAll("div.station")) {
        station.hidden = !station.querySelector("[data-severity]:not([hidden])");
      }
      told.textContent = shown + " of " + findings.length + " shown";
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
      if (one && one.hidden && list.contains(one)) {
        for (const box of boxes) box.checked = true;
        place.value = "";
        apply();
        one.scrollIntoView();
      }
    });
  }
})();
