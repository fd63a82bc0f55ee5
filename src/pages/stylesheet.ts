/** The one stylesheet of the pages: calm paper and ink, light and dark, system fonts, tabular figures. */
export const STYLESHEET = `:root {
  color-scheme: light dark;
  --paper: #fbfaf6;
  --ink: #23211d;
  --quiet: #5d584e;
  --line: #d9d4c7;
  --link: #14507a;
}
@media (prefers-color-scheme: dark) {
  :root {
    --paper: #1c1b19;
    --ink: #ece8df;
    --quiet: #b3ac9e;
    --line: #45413a;
    --link: #8cc4ee;
  }
}
* {
  box-sizing: border-box;
}
body {
  margin: 0;
  background: var(--paper);
  color: var(--ink);
  font: 1.0625rem/1.55 system-ui, sans-serif;
  font-variant-numeric: tabular-nums;
}
main {
  max-width: 44rem;
  margin: 0 auto;
  padding: 1.5rem 1rem 3rem;
}
h1,
h2 {
  line-height: 1.2;
}
a {
  color: var(--link);
}
li a {
  display: inline-block;
  min-height: 2.75rem;
  padding: 0.6rem 0;
}
[role='note'] {
  border-inline-start: 0.3rem solid currentcolor;
  padding: 0.5rem 1rem;
}
footer {
  margin-top: 2rem;
  border-top: 1px solid var(--line);
  padding-top: 0.75rem;
  color: var(--quiet);
}
@media print {
  :root {
    --paper: #fff;
    --ink: #000;
  }
}
`;
