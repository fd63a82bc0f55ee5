import type { JSX } from 'preact';
import { render } from 'preact-render-to-string';
import { licenceNotices } from '../catalogue/index.js';

/** What the start page says of the running service. */
export interface StartPageFacts {
  readonly version: string;
  /** `off`: anyone on this machine reads and writes, and the page says so. */
  readonly auth: 'off' | 'required';
  /** IANA name of the site's zone. */
  readonly siteTimeZone: string;
  readonly doors: readonly NamedLink[];
  /** What to look at first, such as the demo ward; no heading where there is nothing. */
  readonly examples: readonly NamedLink[];
}

export interface NamedLink {
  readonly href: string;
  readonly label: string;
}

/** The page at `/`: what the service is, its doors, and the cautions. A whole HTML document, escaped by construction. */
export function startPage(facts: StartPageFacts): string {
  return `<!doctype html>${render(<StartPage {...facts} />)}`;
}

function StartPage({ version, auth, siteTimeZone, doors, examples }: StartPageFacts): JSX.Element {
  return (
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>Limbledger</title>
        <link rel="stylesheet" href="/assets/limbledger.css" />
      </head>
      <body>
        <main>
          <h1>Limbledger</h1>
          <p>
            Bedside examinations of the musculoskeletal system, each finding coded and on its side, kept as
            HL7 FHIR R4 Observations.
          </p>
          {auth === 'off' && (
            <p role="note">
              <strong>Access control is off.</strong> Anyone who reaches this address reads and writes. It
              listens on this machine alone.
            </p>
          )}
          <h2>Doors</h2>
          <Links links={doors} />
          {examples.length > 0 && (
            <>
              <h2>To look at first</h2>
              <Links links={examples} />
            </>
          )}
          <h2>Cautions</h2>
          <p>
            The service reports findings and changes, never a diagnosis. Local policy and the judgement of
            licensed staff come first; precautions ordered for a patient come before any test. Figures shown
            beside a finding name their source and do not by themselves make a result abnormal.
          </p>
          <footer>
            <p>
              Version {version}. Dates without a time are read in {siteTimeZone}.
            </p>
            {licenceNotices.map(({ of, text }) => (
              <p key={of}>{text}</p>
            ))}
          </footer>
        </main>
      </body>
    </html>
  );
}

function Links({ links }: { readonly links: readonly NamedLink[] }): JSX.Element {
  return (
    <ul>
      {links.map(({ href, label }) => (
        <li key={href}>
          <a href={href}>{label}</a>
        </li>
      ))}
    </ul>
  );
}
