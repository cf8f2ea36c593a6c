/** The look on a screen: one column of text, a quiet list of contents, nothing that moves. */
export const SCREEN_STYLE = `
:root {
  color-scheme: light;
  --ink: #1c2428;
  --quiet: #545e63;
  --rule: #d8d4cb;
  --shade: #f6f4ef;
  --deep: #123f5e;
  --warn: #8a2f12;
  --serif: Charter, "Bitstream Charter", "Iowan Old Style", "Sitka Text", Cambria, Georgia, serif;
  --sans: system-ui, -apple-system, "Segoe UI", Roboto, "Helvetica Neue", Arial, sans-serif;
}
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; text-size-adjust: 100%; scroll-padding-top: 3.5rem; }
body {
  margin: 0;
  background: #fff;
  color: var(--ink);
  font: 1.0625rem/1.6 var(--serif);
  overflow-wrap: break-word;
}
a { color: var(--deep); text-underline-offset: 0.15em; }
a:focus-visible, summary:focus-visible, [tabindex="0"]:focus-visible {
  outline: 3px solid var(--deep);
  outline-offset: 2px;
}
main:focus { outline: none; }
.skip { position: absolute; left: -100vw; top: 0; z-index: 3; padding: 0.6rem 1rem; background: #fff; font-family: var(--sans); }
.skip:focus { left: 0; }

.stamp {
  position: sticky; top: 0; z-index: 2;
  background: var(--warn); color: #fff;
  font: 700 0.8125rem/1.4 var(--sans); letter-spacing: 0.06em; text-align: center;
}
.stamp p { margin: 0; padding: 0.35rem 1rem; }
.stamp-strip { display: none; }
.stamp-small { display: block; color: var(--warn); font: 600 0.75rem/1.5 var(--sans); }

.page-head, .columns, .page-foot { max-width: 50rem; margin: 0 auto; padding: 0 1.25rem; }
.page-head { padding-top: 3rem; padding-bottom: 1.25rem; }
h1 { margin: 0; font-size: 2.25rem; line-height: 1.2; font-weight: 600; letter-spacing: -0.01em; text-wrap: balance; }
.subtitle { margin: 0.6rem 0 0; color: var(--quiet); font-size: 1.1875rem; line-height: 1.45; }
h2 { margin: 0 0 1rem; font-size: 1.5rem; line-height: 1.3; font-weight: 600; }
h3 { margin: 2rem 0 0.5rem; font-size: 1.1875rem; line-height: 1.35; font-weight: 600; }
h4, h5, h6 { margin: 1.5rem 0 0.5rem; font-size: 1.0625rem; font-weight: 600; }
main > section { padding-top: 2.5rem; margin-top: 2.5rem; border-top: 1px solid var(--rule); }
main > section.brief { margin-top: 0; padding-top: 1.5rem; border-top: 3px solid var(--ink); }
p { margin: 0 0 1rem; }
.prose, main > section > ul li { max-width: 42rem; }
ul { margin: 0 0 1rem; padding-left: 1.25rem; }
li { margin-bottom: 0.35rem; }

.contents { font: 0.9375rem/1.45 var(--sans); padding-bottom: 2rem; }
.contents h2 { margin: 0 0 0.5rem; font: 600 0.9375rem/1.4 var(--sans); color: var(--quiet); }
.contents ol { margin: 0; padding: 0; list-style: none; }
.contents li { margin: 0; }
.contents a { display: block; padding: 0.25rem 0; text-decoration: none; }
.contents a:hover { text-decoration: underline; }

.date { white-space: nowrap; }

.answer { margin: 0 0 1.5rem; font-size: 1.5rem; line-height: 1.42; text-wrap: pretty; }
.caution { max-width: 42rem; margin: 0 0 1rem; padding: 0.1rem 0 0.1rem 1rem; border-left: 4px solid #c05a12; }
.caution .lead { font-weight: 600; color: var(--warn); }

.exhibit { margin: 2rem 0; font-family: var(--sans); }
figure { margin: 0; }
figcaption, caption { text-align: left; font-size: 0.9375rem; line-height: 1.5; }
figcaption { margin-bottom: 0.9rem; }
caption { padding-bottom: 0.6rem; font-weight: 600; }
.in-view { position: sticky; left: 0; width: fit-content; max-width: calc(100vw - 2.5rem); }
.lead { color: var(--quiet); font-weight: 600; }
.finding { display: block; max-width: 44rem; }
.drawn-above { margin: 0.6rem 0 0; color: var(--quiet); font-size: 0.8438rem; }
.question { display: block; color: var(--quiet); max-width: 44rem; }
.picture svg { display: block; width: 100%; min-width: 38rem; max-width: 47.5rem; height: auto; }
/* A frame that holds more than it shows has a shadow at the side where the rest is, and says so above. */
.scroll {
  overflow-x: auto;
  background:
    linear-gradient(to right, #fff 40%, #fff0) left / 3rem 100% no-repeat local,
    linear-gradient(to left, #fff 40%, #fff0) right / 3rem 100% no-repeat local,
    linear-gradient(to right, #1c242866, #1c242800) left / 0.9rem 100% no-repeat scroll,
    linear-gradient(to left, #1c242866, #1c242800) right / 0.9rem 100% no-repeat scroll;
}
.scroll::before {
  content: "Scroll sideways \\2192";
  content: "Scroll sideways \\2192" / "";
  display: block; position: sticky; left: 0; width: max-content; max-height: 0; overflow: hidden;
  color: var(--deep); font: 600 0.8125rem/1.6 var(--sans);
}
/* Where there is nothing to scroll, this timeline does not run and the words stay away. */
@supports (animation-timeline: scroll(self inline)) {
  .scroll::before { animation: sideways linear both; animation-timeline: scroll(nearest inline); }
  @keyframes sideways { from, to { max-height: 2rem; } }
}
.notes { margin-top: 0.75rem; color: var(--quiet); font-size: 0.8438rem; line-height: 1.5; max-width: 46rem; }
.notes p { margin: 0 0 0.25rem; }
.reading { margin-top: 0.5rem; font: 0.875rem/1.5 var(--sans); }
.reading label { display: flex; flex-wrap: wrap; gap: 0.25rem 0.75rem; align-items: center; }
.reading input { flex: 1 1 16rem; min-height: 1.75rem; accent-color: var(--deep); }
.reading output { display: block; min-height: 3em; }
.files { margin: 0.5rem 0 0; color: var(--quiet); font-size: 0.8438rem; }

table { border-collapse: collapse; min-width: min(100%, 34rem); font-size: 0.875rem; line-height: 1.4; font-variant-numeric: tabular-nums lining-nums; }
th, td { padding: 0.42rem 1.2rem 0.42rem 0; vertical-align: top; border-bottom: 1px solid var(--rule); font-weight: 400; }
th:last-child, td:last-child { padding-right: 0.1rem; }
thead th, thead td { vertical-align: bottom; border-bottom: 1.5px solid var(--ink); font-weight: 600; max-width: 14rem; }
tbody:last-child tr:last-child > * { border-bottom: 1.5px solid var(--ink); }
.start { text-align: left; }
.end { text-align: right; }
td.end { white-space: nowrap; }
td.long { min-width: 12rem; }
td.end.long { min-width: 10rem; white-space: normal; }
/* A mark is 9rem broad, its 0 in the middle: the line there runs through every row. */
.marked { padding-right: 0 !important; }
td.marked { background: linear-gradient(#7b8489, #7b8489) right 4.5rem top / 1px 100% no-repeat; }
td.marked:empty::after { content: ""; display: inline-block; width: 9rem; }
.marked svg { display: inline-block; width: 9rem; height: 1rem; margin-left: 0.9rem; vertical-align: -0.2rem; }
.scale { display: block; }
.with-marks tbody tr > * { border-bottom: 0; padding-top: 0.2rem; padding-bottom: 0.2rem; }
.with-marks .marked-row > * { border-top: 1px solid var(--rule); padding-top: 0.45rem; }
.with-marks .marked-row > th { font-weight: 600; }
.many { font-size: 0.8125rem; }
.many th, .many td { padding-right: 0.75rem; }
.many td.start { min-width: 7rem; }
.many td.long { min-width: 11rem; }
.many th:first-child { min-width: 7.5rem; }
th[dir].start, td[dir].start, .heading th { text-align: start; }
th:first-child { min-width: 9rem; }
.heading th { padding-top: 0.9rem; font-weight: 600; }
.indent-1 { padding-left: 1.1rem; }
.indent-2 { padding-left: 2.2rem; }
.indent-3 { padding-left: 3.3rem; }
.withheld { color: var(--quiet); font-style: italic; }

details { margin: 0.9rem 0 1.25rem; font-family: var(--sans); }
summary { display: inline-block; padding: 0.25rem 0; color: var(--deep); font-size: 0.9375rem; cursor: pointer; }
summary::before { content: "+ "; font-weight: 600; }
details[open] > summary::before { content: "− "; }
details .scroll { margin-top: 0.5rem; }
pre { margin: 0.5rem 0 0; padding: 1rem; max-height: 32rem; overflow: auto; background: var(--shade); font-size: 0.8125rem; line-height: 1.5; tab-size: 2; }

.facts { margin: 0 0 1.5rem; font: 0.9062rem/1.5 var(--sans); border-top: 1px solid var(--rule); }
.facts > div { display: grid; grid-template-columns: 13rem minmax(0, 1fr); gap: 0 1.25rem; padding: 0.4rem 0; border-bottom: 1px solid var(--rule); }
.facts dt { color: var(--quiet); }
.facts dd { margin: 0; overflow-wrap: anywhere; white-space: pre-line; }

.choices { margin: 1.75rem 0; padding: 1rem 1.25rem 0.6rem; border: 1.5px solid var(--ink); }
.choices-title { margin: 0 0 0.6rem; font-weight: 600; }
.choices ul { margin: 0; padding: 0; list-style: none; }
.by-hand { display: flex; gap: 0.75rem; margin: 0.5rem 0; line-height: 1.45; }
.by-hand::after { flex: 1; border-bottom: 1px solid var(--ink); content: ""; }
.choices li { display: flex; gap: 0.75rem; margin-bottom: 0.55rem; line-height: 1.45; }
.box { flex: none; width: 1.05rem; height: 1.05rem; margin-top: 0.18rem; border: 1.5px solid var(--ink); background: #fff; }

.page-foot { margin-top: 3rem; padding-top: 1rem; padding-bottom: 3rem; color: var(--quiet); font: 0.8125rem/1.5 var(--sans); }
.page-foot p { margin: 0; overflow-wrap: anywhere; }

.index-list { margin-top: 2.5rem; padding: 0; list-style: none; }
.index-list li { padding: 1.25rem 0 0.5rem; border-top: 1px solid var(--rule); }
.index-list h2 { margin-bottom: 0.3rem; font-size: 1.3125rem; }

@media (min-width: 72rem) {
  .page-head, .columns, .page-foot { max-width: 67.25rem; }
  .columns { display: grid; grid-template-columns: 13.5rem minmax(0, 1fr); gap: 0 3.5rem; align-items: start; }
  .page-head, .page-foot { padding-left: 18.25rem; }
  .contents { position: sticky; top: 3.5rem; padding: 1.6rem 0 0; max-height: calc(100vh - 4rem); overflow-y: auto; }
}
/* No picture is narrower than this. */
@media (max-width: 40.5rem) { .picture::before { max-height: 2rem; } }
@media (max-width: 40rem) {
  body { font-size: 1rem; }
  .page-head { padding-top: 1.75rem; }
  h1 { font-size: 1.6875rem; }
  .answer { font-size: 1.25rem; }
  .facts > div { grid-template-columns: minmax(0, 1fr); }
  /* What a row is about stays in view while its numbers pass. */
  table:has(thead > tr > :nth-child(3)) :is(thead th:first-child, tbody th[scope="row"]) { position: sticky; left: 0; z-index: 1; max-width: 8.5rem; background: #fff; }
  main > section { padding-top: 1.75rem; margin-top: 1.75rem; }
}
@media (prefers-contrast: more) { :root { --quiet: #1c2428; --rule: #545e63; } }
`;
