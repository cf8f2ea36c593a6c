/**
 * Reads the curves off at a day: a slider under each figure of curves, moved by keys, by dragging, or by pointing at the
 * picture. The page is complete without it. It fetches nothing and writes text only, never markup.
 *
 * A step holds up to the next one. Where joined points rise, nothing is told between two: the reading names both instead.
 */
export const PAGE_SCRIPT = `"use strict";
for (const figure of document.querySelectorAll("figure[data-reading]")) {
  const reading = JSON.parse(figure.dataset.reading);
  const picture = figure.querySelector("svg");
  const make = (name, values) => Object.assign(document.createElement(name), values);
  const box = make("div", { className: "reading" });
  const label = make("label", { textContent: "Read the curves at a time " });
  const slider = make("input", { type: "range", min: 0, max: reading.end, step: 1, value: 0 });
  const said = make("output", { textContent: "Move the slider, or point at the picture." });
  const line = document.createElementNS("http://www.w3.org/2000/svg", "line");
  const years = (tick) => tick / reading.perYear;
  const number = (share) => (reading.factor * share).toFixed(reading.decimals);
  const told = (curve, step) => {
    const low = curve.low[step], high = curve.high[step];
    const limits = low === null || high === null ? "" : " (" + number(low) + " to " + number(high) + ")";
    return number(curve.value[step]) + limits;
  };
  const dated = (curve, step) => told(curve, step) + " at " + years(curve.time[step]).toFixed(1) + " years";
  const at = (curve, tick) => {
    if (tick > curve.drawnTo) return curve.label + ": not drawn";
    let step = 0;
    while (step + 1 < curve.time.length && curve.time[step + 1] <= tick) step += 1;
    let risk = "";
    curve.years.forEach((year, place) => {
      if (Math.floor(year * reading.perYear) <= tick) risk = ", at risk at year " + year + ": " + curve.atRisk[place];
    });
    const next = step + 1;
    const rises = next < curve.time.length && curve.value[next] !== curve.value[step];
    const words = reading.joined && rises && tick > curve.time[step]
      ? "between " + dated(curve, step) + " and " + dated(curve, next)
      : told(curve, step);
    return curve.label + ": " + words + risk;
  };
  const tell = () => {
    const tick = Number(slider.value);
    const when = reading.unit + " " + tick + " (" + years(tick).toFixed(1) + " years), " + reading.word + ". ";
    const words = when + reading.curves.map((curve) => at(curve, tick)).join("; ") + ".";
    said.textContent = words;
    slider.setAttribute("aria-valuetext", words);
    const x = reading.left + ((reading.right - reading.left) * years(tick)) / reading.yearsEnd;
    for (const [name, value] of Object.entries({ x1: x, x2: x, y1: reading.top, y2: reading.bottom, stroke: "#545e63" }))
      line.setAttribute(name, value);
  };
  slider.addEventListener("input", tell);
  picture.addEventListener("pointermove", (event) => {
    const frame = picture.getBoundingClientRect();
    const x = ((event.clientX - frame.left) / frame.width) * picture.viewBox.baseVal.width;
    const share = (x - reading.left) / (reading.right - reading.left);
    if (share < 0 || share > 1) return;
    slider.value = Math.round(share * reading.yearsEnd * reading.perYear);
    tell();
  });
  picture.append(line);
  label.append(slider);
  box.append(label, said);
  figure.querySelector(".picture").after(box);
}
`;
