"use strict";
(() => {
  const table = document.querySelector("table");
  const body = table.tBodies[0];
  const rows = Array.from(body.rows);
  const form = document.querySelector("form");
  const status = form.querySelector("[role=status]");
  document.documentElement.classList.add("scripted");

  const shown = (row) => {
    const words = form.elements.search.value.toLowerCase().split(/\s+/).filter(Boolean);
    const text = row.textContent.toLowerCase();
    return words.every((word) => text.includes(word)) &&
      Array.from(form.querySelectorAll("select")).every((one) =>
        !one.value || row.dataset[one.name].split("|").includes(one.value));
  };
  const filter = () => {
    let count = 0;
    for (const row of rows) {
      row.hidden = !shown(row);
      count += row.hidden ? 0 : 1;
    }
    status.textContent = count === 1 ? status.dataset.one : status.dataset.many.replace("#", count);
  };
  const sort = (column, heading) => {
    const falling = heading.getAttribute("aria-sort") === "ascending";
    for (const one of table.tHead.rows[0].cells) one.removeAttribute("aria-sort");
    heading.setAttribute("aria-sort", falling ? "descending" : "ascending");
    const value = (row) => row.cells[column].dataset.sort;
    const order = (one, other) => value(one).localeCompare(value(other), undefined, { numeric: true });
    rows.sort((one, other) => falling ? order(other, one) : order(one, other));
    body.append(...rows);
  };
  Array.from(table.tHead.rows[0].cells).forEach((heading, column) => {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = heading.textContent;
    heading.replaceChildren(button);
    button.addEventListener("click", () => sort(column, heading));
  });
  form.addEventListener("input", filter);
  form.addEventListener("submit", (event) => event.preventDefault());
  filter();
})();
