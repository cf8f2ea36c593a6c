/** The look on paper: A4, the brief on pages of its own, no figure or row cut, dark text on white. */
export const PRINT_STYLE = `
@page {
  size: A4;
  margin: 15mm 14mm 17mm 16mm;
  @bottom-right { content: counter(page) " / " counter(pages); font: 8pt system-ui, sans-serif; color: #545e63; }
}
@media print {
  :root { --ink: #000; --quiet: #3d4549; }
  * { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  html { font-size: 12px; }
  body { font-size: 10pt; line-height: 1.45; }
  .skip, .contents, .stamp, .stamp-small { display: none; }
  .page-head, .columns, .page-foot { display: block; max-width: none; padding-left: 0; padding-right: 0; }
  .page-head { padding-top: 0; padding-bottom: 4mm; }
  h1 { font-size: 19pt; }
  .subtitle { font-size: 11.5pt; margin-top: 1.5mm; }
  h2 { font-size: 14pt; margin-bottom: 2.5mm; }
  h3 { font-size: 11.5pt; margin: 3.5mm 0 1mm; }
  h1, h2, h3, h4, h5, h6, figcaption, caption { break-after: avoid; }
  p, li { orphans: 3; widows: 3; }
  p { margin-bottom: 2.5mm; }
  .prose, .caution, .notes, .question, main > section > ul li { max-width: none; }
  main > section { margin-top: 6mm; padding-top: 5mm; }
  main > section.brief { margin-top: 0; padding-top: 3.5mm; }
  main > section.brief + section { break-before: page; margin-top: 0; border-top: 0; padding-top: 0; }
  .answer { font-size: 11pt; line-height: 1.32; margin-bottom: 1.5mm; }
  ul { margin-bottom: 2.5mm; }
  li { margin-bottom: 0.6mm; }
  .exhibit { margin: 5mm 0; }
  figure, tr, .caution, .choices, .facts > div, .notes { break-inside: avoid; }
  .picture svg { min-width: 0; max-width: none; width: 100%; max-height: 205mm; }
  /* The brief has two pages: its curve stands beside its words, long lists run in two columns, rows are close. */
  .brief figure.of-curves { display: grid; grid-template: auto 1fr / 124mm minmax(0, 1fr); column-gap: 4mm; margin: 0; }
  .brief .of-curves figcaption { margin: 0; font-size: 8.5pt; line-height: 1.35; }
  .brief .prose, .brief ul { font-size: 9.25pt; line-height: 1.36; margin-bottom: 1.5mm; }
  .brief .answer { font-size: 11.5pt; margin-bottom: 1.2mm; }
  .brief h3 { margin-top: 2.2mm; }
  table.short, .exhibit:has(> .scroll > :is(.short, .with-marks)) { break-inside: avoid; }
  .brief .question { margin-top: 1mm; font-size: 7.5pt; }
  .brief .notes { font-size: 7pt; line-height: 1.35; }
  .brief .exhibit { margin: 2mm 0; }
  .brief .of-curves .picture { grid-area: 1 / 1 / 3 / 2; }
  .brief .of-curves .notes { grid-column: 2; }
  .brief ul:has(> li:nth-child(6)) { columns: 2; column-gap: 7mm; font-size: 8.5pt; line-height: 1.35; }
  .brief ul:has(> li:nth-child(6)) li { break-inside: avoid; }
  /* The words used, at its end. */
  .brief > section:last-child h3 { margin-top: 2mm; }
  .brief > section:last-child ul:has(> li:nth-child(6)) { columns: 3; column-gap: 5mm; font-size: 7.5pt; line-height: 1.3; }
  .brief th, .brief td { padding-top: 0.45mm; padding-bottom: 0.45mm; }
  .brief .heading th { padding-top: 1mm; }
  .scroll, pre { overflow: visible; max-height: none; }
  .scroll { background: none; }
  .scroll::before { content: none; }
  thead { display: table-header-group; }
  tr.heading { break-after: avoid; }
  table { font-size: 8.5pt; }
  th, td { padding: 0.85mm 2mm 0.85mm 0; }
  td.end.long, table:has(thead > tr > :nth-child(6)) td.end { white-space: normal; }
  /* A matrix of many columns still has to fit the sheet. */
  table:has(thead > tr > :nth-child(11)) { font-size: 5.9pt; }
  table:has(thead > tr > :nth-child(11)) :is(th, td) { min-width: 0; padding-right: 0.6mm; }
  .with-marks tbody tr > * { padding-top: 0.4mm; padding-bottom: 0.4mm; }
  .marked-row { break-after: avoid; }
  td.start, td.long { min-width: 0; }
  figcaption, caption { font-size: 9pt; }
  .notes { font-size: 8pt; margin-top: 1.5mm; }
  .folded, .twin, summary, .files, .reading { display: none; }
  /* Paper cannot be unfolded: the numbers of a curve are printed, outside the brief. */
  main > section:not(.brief) .twin.of-curves { display: block; }
  .twin.of-curves::details-content { content-visibility: visible; height: auto; }
  .choices { margin: 3.5mm 0; padding: 3mm 4.5mm 1.5mm; }
  .choices ul { display: grid; grid-template-columns: 1fr 1fr; gap: 0 6mm; }
  .brief .choices { margin: 2mm 0; padding: 2mm 4mm 0.5mm; }
  .brief .by-hand { margin: 1.5mm 0; font-size: 9pt; }
  .brief .choices ul { grid-template-columns: auto auto auto 1fr; font-size: 9pt; }
  .facts { font-size: 8.5pt; }
  .facts > div { grid-template-columns: 42mm minmax(0, 1fr); padding: 0.8mm 0; }
  .page-foot { margin-top: 6mm; padding: 3mm 0 0; border-top: 0.5pt solid #8b9195; font-size: 8pt; }
  a { color: inherit; text-decoration: none; }
  body:has(> .stamp-strip) { padding-right: 9mm; }
  .stamp-strip {
    display: block; position: fixed; top: 0; right: 0; bottom: 0; width: 6mm; margin: 0;
    border-left: 0.5pt solid var(--warn); color: var(--warn);
    font: 700 8.5pt/6mm var(--sans); letter-spacing: 0.14em; text-align: center; writing-mode: vertical-rl;
  }
}
`;
