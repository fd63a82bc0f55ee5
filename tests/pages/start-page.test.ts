import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { startPage } from '../../src/pages/index.js';

const facts = { version: '0.1.0', auth: 'required', siteTimeZone: 'UTC', doors: [], examples: [] } as const;

describe('the start page', () => {
  it('says when access control is off, and only then', () => {
    expect(startPage({ ...facts, auth: 'off' })).toContain('Access control is off');
    expect(startPage(facts)).not.toContain('Access control is off');
  });

  it('lets no tag through, whatever it is given', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const page = startPage({ ...facts, examples: [{ href: '/x', label: `<script>${text}` }] });
        expect(page).not.toContain('<script>');
      }),
    );
  });

  it('shows the notices that the code systems ask for', () => {
    for (const owner of ['Regenstrief Institute', 'International Health Terminology Standards', 'UCUM']) {
      expect(startPage(facts)).toContain(owner);
    }
  });

  it('states the cautions', () => {
    expect(startPage(facts)).toContain('never a diagnosis');
  });
});
