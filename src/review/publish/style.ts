/**
 * The style of a published review: prose at a reading measure, figures and tables at the width of the page, and beside the text the source of
 * the claim that is pointed at. Two inks and hairlines; colour is left to data and to what does not hold.
 */
export const STYLE = `:root {
  --paper: #fdfdfb;
  --ink: #1b1f23;
  --soft: #59626b;
  --hair: #dddfdd;
  --tint: #f3f4f1;
  --link: #0b5c8c;
  --warn: #9a2f1a;
  --doubt: #6d5200;
  --nitbook-font: var(--sans);
  --nitbook-surface: var(--paper);
  --nitbook-text: var(--ink);
  --nitbook-muted: var(--soft);
  --nitbook-grid: var(--hair);
  --serif: Charter, "Bitstream Charter", "Charis SIL", "Sitka Text", Cambria, "Noto Serif", serif;
  --sans: system-ui, -apple-system, "Segoe UI", Roboto, "Noto Sans", sans-serif;
  color-scheme: light;
}
@media screen and (prefers-color-scheme: dark) {
  :root {
    --paper: #15181b;
    --ink: #e2e5e8;
    --soft: #9da6af;
    --hair: #32373c;
    --tint: #1c2024;
    --link: #7fc1f0;
    --warn: #ff9d83;
    --doubt: #e2bf5e;
    --nitbook-red: #ff8a4a;
    --nitbook-green: #3cc79b;
    --nitbook-blue: #5db0ee;
    --nitbook-a: #d79be0;
    --nitbook-b: #e5b84b;
    --nitbook-c: #6cc6dc;
    --nitbook-d: #b0b0b0;
    color-scheme: dark;
  }
}
* {
  box-sizing: border-box;
}
html {
  font-size: clamp(17px, 15.6px + 0.35vw, 20px);
  -webkit-text-size-adjust: 100%;
  text-size-adjust: 100%;
}
body {
  margin: 0;
  color: var(--ink);
  background: var(--paper);
  font-family: var(--serif);
  line-height: 1.6;
  font-kerning: normal;
  font-variant-numeric: lining-nums;
}
main {
  position: relative;
  max-width: 42rem;
  margin: 0 auto;
  padding: clamp(2rem, 7vw, 5rem) clamp(1.1rem, 4vw, 2rem) 6rem;
}
h1,
h2,
h3,
h4,
p,
ul,
ol,
blockquote {
  max-width: 36rem;
}
p,
ul,
ol,
blockquote,
pre {
  margin: 0 0 1.1em;
  text-wrap: pretty;
  overflow-wrap: break-word;
}
h1,
h2,
h3,
h4 {
  line-height: 1.2;
  font-weight: 600;
  text-wrap: balance;
}
h1 {
  margin: 0 0 0.7em;
  font-size: clamp(1.7rem, 1.2rem + 2.4vw, 2.5rem);
  letter-spacing: -0.012em;
}
h1 + p {
  margin-bottom: 2em;
  font-size: 1.12em;
  line-height: 1.55;
}
h2 {
  max-width: none;
  margin: 2.6em 0 0.8em;
  padding-top: 0.9em;
  border-top: 1px solid var(--hair);
  font-size: 1.4rem;
}
h3 {
  margin: 2em 0 0.6em;
  font-size: 1.12rem;
}
a {
  color: var(--link);
  text-decoration-thickness: 0.06em;
  text-underline-offset: 0.16em;
}
:focus-visible {
  outline: 2px solid var(--link);
  outline-offset: 2px;
  border-radius: 1px;
}
img {
  max-width: 100%;
  height: auto;
}
hr {
  margin: 2.5em 0;
  border: 0;
  border-top: 1px solid var(--hair);
}
blockquote {
  margin-left: 0;
  padding-left: 1.1em;
  border-left: 2px solid var(--hair);
  color: var(--soft);
}
code,
pre {
  font-family: ui-monospace, "Cascadia Mono", Menlo, "DejaVu Sans Mono", monospace;
  font-size: 0.85em;
}
pre {
  overflow-x: auto;
  padding: 0.8em 1em;
  background: var(--tint);
}

/* Claims: a dotted line says that there is a source; its words stand in the margin, or at the foot of a narrow window. */
.nitbook-short > a {
  white-space: nowrap;
}
.nitbook-claim > a {
  color: inherit;
  text-decoration: underline dotted 0.07em var(--soft);
  text-underline-offset: 0.22em;
}
.nitbook-claim > a:hover,
.nitbook-claim > a:focus-visible {
  text-decoration-style: solid;
  text-decoration-color: var(--link);
}
.nitbook-undecided > a {
  text-decoration-style: dashed;
  text-decoration-color: var(--doubt);
}
.nitbook-wrong > a {
  text-decoration: line-through 0.08em var(--warn);
}
.nitbook-sign {
  color: var(--doubt);
  font-family: var(--sans);
  font-size: 0.78em;
}
.nitbook-wrong > .nitbook-sign,
.nitbook-broken > .nitbook-sign {
  padding: 0.1em 0.4em;
  border: 1px solid currentColor;
  border-radius: 2px;
  color: var(--warn);
  font-weight: 600;
  -webkit-box-decoration-break: clone;
  box-decoration-break: clone;
}
.nitbook-source {
  display: none;
  position: fixed;
  z-index: 2;
  right: 0;
  bottom: 0;
  left: 0;
  padding: 0.7rem clamp(1.1rem, 4vw, 2rem);
  border-top: 1px solid var(--hair);
  color: var(--soft);
  background: var(--paper);
  font: 400 0.78rem/1.45 var(--sans);
  font-variant-numeric: tabular-nums;
  text-align: left;
}
.nitbook-claim > a:hover ~ .nitbook-source,
.nitbook-claim > a:focus-visible ~ .nitbook-source {
  display: inline-block;
}
:target {
  background: color-mix(in srgb, var(--link) 14%, transparent);
}

/* Tables and figures take the width of the page; a table that is wider scrolls by itself. */
.nitbook-scroll {
  overflow-x: auto;
  margin: 1.6em 0;
}
table {
  width: 100%;
  border-collapse: collapse;
  font: 400 0.82rem/1.4 var(--sans);
  font-variant-numeric: tabular-nums lining-nums;
}
caption {
  padding: 0 0 0.6em;
  text-align: left;
  font-weight: 600;
}
th,
td {
  padding: 0.42em 1.2em 0.42em 0;
  border-bottom: 1px solid var(--hair);
  text-align: left;
  vertical-align: baseline;
  font-weight: 400;
}
td {
  min-width: 4.5em;
}
thead th {
  border-bottom-color: var(--soft);
  color: var(--soft);
  vertical-align: bottom;
}
th[scope="row"] {
  position: sticky;
  left: 0;
  background: var(--paper);
}
.nitbook-group th {
  padding-top: 1.3em;
  font-weight: 600;
}
.nitbook-about {
  display: block;
  max-width: min(60em, 100vw - 2.4rem);
  color: var(--soft);
  font-size: 0.92em;
  font-weight: 400;
}
.nitbook-absent {
  color: var(--soft);
}
.nitbook-beyond,
.nitbook-beyond .nitbook-mark {
  color: var(--warn);
}
.nitbook-undecided .nitbook-mark,
td.nitbook-undecided {
  color: var(--doubt);
}
.nitbook-mark {
  white-space: nowrap;
}
.nitbook-note {
  max-width: none;
  margin: -0.9em 0 1.6em;
  color: var(--soft);
  font: 400 0.76rem/1.45 var(--sans);
}
figure {
  margin: 2em 0;
  container-type: inline-size;
}
/* The room round a drawing is in the margin, so that its words stand under those of the text. */
.nitbook-figure svg {
  display: block;
  width: 104%;
  height: auto;
  margin: 0 -2%;
}
.nitbook-narrow svg {
  width: 108%;
  margin: 0 -4%;
}
.nitbook-narrow {
  display: none;
}
@container (max-width: 480px) {
  .nitbook-wide {
    display: none;
  }
  .nitbook-narrow {
    display: block;
  }
}
figcaption {
  margin-top: 0.4em;
  color: var(--soft);
  font: 400 0.78rem/1.45 var(--sans);
}
.nitbook-evidence table {
  font-size: 0.76rem;
}
.nitbook-back {
  white-space: nowrap;
}
summary {
  cursor: pointer;
}
.nitbook-numbers .nitbook-scroll {
  max-height: 60vh;
  overflow: auto;
  margin: 0.6em 0 0;
}
.nitbook-facts,
.nitbook-care {
  margin: 1.6em 0;
  font: 400 0.82rem/1.5 var(--sans);
}
.nitbook-title {
  margin: 0 0 0.5em;
  font-weight: 600;
}
dl {
  margin: 0;
}
dl > div {
  display: grid;
  grid-template-columns: 8rem 1fr;
  column-gap: 1rem;
  padding: 0.35em 0;
  border-bottom: 1px solid var(--hair);
}
dt {
  grid-row: 1 / span 99;
  color: var(--soft);
}
dd {
  grid-column: 2;
  margin: 0;
}
dd + dd {
  margin-top: 0.3em;
}
.nitbook-care {
  padding: 0.9em 1.1em;
  background: var(--tint);
}
.nitbook-care ul {
  max-width: none;
  margin: 0;
  padding-left: 1.1em;
}
.nitbook-problem {
  padding: 0.15em 0.4em;
  border: 1px solid var(--warn);
  color: var(--warn);
  font-family: var(--sans);
  font-size: 0.85em;
}

@media (max-width: 34rem) {
  dl > div {
    display: block;
  }
}
/* Where the window has a margin, the source of a claim stands in it, beside its line. */
@media (min-width: 74rem) {
  main {
    left: -6rem;
  }
  .nitbook-source {
    position: absolute;
    right: auto;
    bottom: auto;
    left: calc(100% - 1rem);
    width: 14rem;
    padding: 0.1rem 0 0 0.9rem;
    border-top: 0;
    border-left: 2px solid var(--hair);
  }
}

@media print {
  @page {
    margin: 18mm 16mm;
  }
  html {
    font-size: 10.5pt;
  }
  main {
    max-width: none;
    padding: 0;
  }
  .nitbook-source,
  .nitbook-numbers {
    display: none !important;
  }
  h2,
  h3,
  caption {
    break-after: avoid;
  }
  figure,
  tr,
  .nitbook-care,
  dl > div {
    break-inside: avoid;
  }
  .nitbook-scroll {
    overflow: visible;
  }
  th[scope="row"] {
    position: static;
  }
  .nitbook-figure svg {
    width: 100%;
    margin: 0;
  }
  a {
    color: inherit;
  }
}
`;
