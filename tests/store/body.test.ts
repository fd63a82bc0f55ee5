import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FIRST_DICTIONARY } from '../../src/store/body-dictionary.js';
import { decodeBody, encodeBody } from '../../src/store/body.js';

describe('a stored body', () => {
  it('comes back byte for byte, whatever the text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 3000 }), (text) => {
        expect(decodeBody(encodeBody(text)).toString('utf8')).toBe(text);
      }),
    );
  });

  it('is packed with a dictionary whose bytes never change, or no stored body could be read again', () => {
    expect(createHash('sha256').update(FIRST_DICTIONARY).digest('hex')).toBe(
      'e1696af28df309fd638aaf6de96971d18704d0384171abcee752d5db2d9638df',
    );
  });

  it('stays plain where packing would not make it smaller', () => {
    expect(encodeBody('x')).toEqual({ encoding: 0, body: Buffer.from('x') });
  });

  it('is refused when its encoding is unknown', () => {
    expect(() => decodeBody({ encoding: 9, body: Buffer.alloc(0) })).toThrow('unknown encoding 9');
  });
});
