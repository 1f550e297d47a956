(() => {
  "use strict";
  const control = document.getElementById("hour-value");
  if (control) {
    const stops = JSON.parse(document.getElementById("hour-stops").textContent);
    const output = document.getElementById("hour-words");
    const total = document.getElementById("hour-total");
    const panels = [...document.querySelectorAll("[data-panel]")];
    const points = [...document.querySelectorAll("[data-point]")];
    const plans = [...document.querySelectorAll("[data-plan]")];
    const show = () => {
      const stop = stops[Number(control.value)];
      output.textContent = stop.words;
      total.textContent = stop.total;
      control.setAttribute("aria-valuetext", stop.words + ", plan " + (stop.plan + 1));
      panels.forEach((panel) => { panel.hidden = Number(panel.dataset.panel) !== stop.plan; });
      points.forEach((point) => {
        const here = Number(point.dataset.point) === stop.plan;
        point.classList.toggle("current", here);
        if (here) { point.parentNode.append(point); }
      });
      plans.forEach((plan) => {
        plan.classList.toggle("current", Number(plan.dataset.plan) === stop.plan);
      });
    };
    const choose = (plan) => {
      const at = stops.findIndex((stop) => stop.plan === plan);
      if (at >= 0) { control.value = String(at); show(); }
    };
    points.forEach((point) => {
      point.addEventListener("click", () => choose(Number(point.dataset.point)));
    });
    control.addEventListener("input", show);
    control.closest(".hour-control").hidden = false;
    show();
  }
  // On a narrow screen cells stand below each other: each then says its column, and rows stay rows.
  const roles = { THEAD: "rowgroup", TBODY: "rowgroup", TFOOT: "rowgroup", TR: "row", TD: "cell" };
  document.querySelectorAll("table.stack").forEach((table) => {
    const titles = [...table.tHead.rows[0].cells].map((cell) => cell.textContent.trim());
    table.setAttribute("role", "table");
    table.querySelectorAll("thead, tbody, tfoot, tr, td, th").forEach((part) => {
      part.setAttribute("role", roles[part.tagName] || (part.scope === "col" ? "columnheader" : "rowheader"));
      if (part.tagName === "TD" && part.colSpan === 1) { part.dataset.label = titles[part.cellIndex]; }
      if (part.scope === "row" && table.classList.contains("named")) { part.dataset.label = titles[0]; }
    });
    table.classList.add("stacked");
  });
  const opened = [];
  addEventListener("beforeprint", () => {
    document.querySelectorAll("details[data-print]:not([open])").forEach((detail) => {
      detail.open = true;
      opened.push(detail);
    });
  });
  addEventListener("afterprint", () => {
    opened.splice(0).forEach((detail) => { detail.open = false; });
  });
})();
