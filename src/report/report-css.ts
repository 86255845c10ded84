/** Rules of the report, on top of those that every page has. */
export const REPORT_CSS = `
main { font-variant-numeric: tabular-nums; }
h3 { font-size: 1rem; margin: 1.2rem 0 .3rem; }
figure { margin: .6rem 0; }
.picture { display: block; width: 100%; height: auto; }
.picture text { font: 12px "Source Sans 3", system-ui, "Segoe UI", "Helvetica Neue", Arial, sans-serif; fill: var(--ink); }
.picture text.small { font-size: 11px; fill: var(--faint); }
.picture text.on-plot { fill: var(--ink); stroke: var(--paper); stroke-width: 3px; paint-order: stroke; }
.rule { stroke: var(--line); stroke-opacity: .5; }
.axis { stroke: var(--faint); }
.threshold { stroke: var(--faint); stroke-dasharray: 5 4; }
.pv { fill: none; stroke: #D55E00; stroke-width: 1.5; }
.house { fill: none; stroke: var(--ink); stroke-width: 1; }
.frame { fill: none; stroke: var(--faint); }
.frame-filled { stroke: var(--faint); }
.legend { list-style: none; display: flex; flex-wrap: wrap; gap: .2rem 1.1rem; padding: 0; margin: .2rem 0; font-size: .85rem; }
.legend li { margin: 0; }
.swatch { display: inline-block; width: 16px; height: 12px; margin-right: .35rem; vertical-align: -1px; }
.key-figures { display: flex; flex-wrap: wrap; gap: .4rem 2.4rem; margin: .2rem 0 .8rem; }
.key-figures dt { color: var(--faint); font-size: .9rem; }
.key-figures dd { margin: 0; font-size: 1.7rem; font-weight: 600; line-height: 1.15; }
.key-figures div { display: flex; flex-direction: column-reverse; justify-content: flex-end; }
.numbers td, .chain .number { text-align: right; white-space: nowrap; }
.numbers thead th:not(:first-child) { text-align: right; }
.numbers tbody th { white-space: nowrap; }
.what-if tbody th { white-space: normal; width: 22%; }
.what-if td:last-child { width: 48%; }
.what-if td:last-child, .what-if thead th:last-child { text-align: left; white-space: normal; }
.what-if tbody tr:first-child, .total tbody tr:last-child { border-top: 2px solid var(--line); font-weight: 600; }
.chain th { font-weight: 400; }
.chain thead th { font-weight: 600; }
.chain tr:not(.less) th[scope=row], .chain tr:not(.less) .number { font-weight: 600; }
.chain .less th { font-style: italic; padding-left: 1.2rem; }
.chain .bar { width: 24%; padding-left: 0; }
.chain .bar svg { display: block; width: 100%; height: auto; }
.account tbody th { white-space: nowrap; font-weight: 400; color: var(--faint); width: 1%; }
.account tbody th, .account td { padding-top: .15rem; padding-bottom: .15rem; border-bottom: 0; }
summary { cursor: pointer; color: var(--faint); font-size: .85rem; }
details table { font-size: .85rem; }
.scroll { overflow-x: auto; }
@media (max-width: 30rem) { .chain .bar { display: none; } .chain th[colspan] { width: 25%; } }
@media print {
  .picture text { font-size: 11px; }
  .together, .chain { break-inside: avoid; }
  .scroll { overflow: visible; }
  h3 { break-after: avoid; }
  details { display: none; }
  * { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
`;
