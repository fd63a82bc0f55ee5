import { createHash } from 'node:crypto';
import { deflateRawSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FIRST_DICTIONARY, SECOND_DICTIONARY } from '../../src/store/body-dictionary.js';
import { decodeBody, encodeBody } from '../../src/store/body.js';
import { exampleObservations } from '../config/profiles/examples.js';

describe('a stored body', () => {
  it('comes back byte for byte, whatever the text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 3000 }), (text) => {
        expect(decodeBody(encodeBody(text)).toString('utf8')).toBe(text);
      }),
    );
  });

  it.each([
    [FIRST_DICTIONARY, 'e1696af28df309fd638aaf6de96971d18704d0384171abcee752d5db2d9638df'],
    [SECOND_DICTIONARY, '13a84de1903b5a8547aa63505fe2e467c39816ec1d64f64c857b5ead0948380e'],
  ])(
    'is packed with a dictionary whose bytes never change, or no stored body could be read again',
    (dictionary, hash) => {
      expect(createHash('sha256').update(dictionary).digest('hex')).toBe(hash);
    },
  );

  it('that was packed with the first dictionary is still read', () => {
    const text = '{"resourceType":"Observation","id":"o1","status":"final"}';
    const body = deflateRawSync(Buffer.from(text), { dictionary: Buffer.from(FIRST_DICTIONARY) });
    expect(decodeBody({ encoding: 1, body }).toString('utf8')).toBe(text);
  });

  it('of an examination is smaller by a tenth than with the first dictionary, one finding of each kind', () => {
    const dictionary = Buffer.from(FIRST_DICTIONARY);
    const texts = exampleObservations().map((example) => JSON.stringify(example));
    const sizeOf = (pack: (text: string) => Buffer): number =>
      texts.reduce((sum, text) => sum + pack(text).length, 0);
    const first = sizeOf((text) => deflateRawSync(Buffer.from(text), { dictionary, level: 6 }));
    expect(sizeOf((text) => encodeBody(text).body)).toBeLessThan(first * 0.9);
  });

  it('stays plain where packing would not make it smaller', () => {
    expect(encodeBody('x')).toEqual({ encoding: 0, body: Buffer.from('x') });
  });

  it('is refused when its encoding is unknown', () => {
    expect(() => decodeBody({ encoding: 9, body: Buffer.alloc(0) })).toThrow('unknown encoding 9');
  });
});
