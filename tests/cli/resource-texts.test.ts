import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readResourceTexts } from '../../src/cli/resource-texts.js';

/** The texts of a file that arrives in pieces of so many bytes, each with the line that it begins in. */
async function textsOf(file: string | Buffer, pieceLength = 7): Promise<(readonly [number, string])[]> {
  const bytes = Buffer.from(file);
  async function* pieces(): AsyncGenerator<Uint8Array> {
    for (let at = 0; at < bytes.length; at += pieceLength)
      yield await Promise.resolve(bytes.subarray(at, at + pieceLength));
  }
  const texts: (readonly [number, string])[] = [];
  for await (const { line, bytes: found } of readResourceTexts(pieces()))
    texts.push([line, Buffer.from(found).toString('utf8')]);
  return texts;
}

const ONE = '{"resourceType":"Patient","id":"one"}';
const TWO = '{"resourceType":"Patient","id":"two"}';
const SPREAD = JSON.stringify({ resourceType: 'Patient', id: 'one', name: [{ family: 'Zzë' }] }, null, 2);

describe('a file of resources', () => {
  test.each([
    ['one on a line', ONE, [[1, ONE]]],
    [
      'one on each line',
      `${ONE}\n${TWO}\n`,
      [
        [1, ONE],
        [2, TWO],
      ],
    ],
    [
      'blank lines between',
      `\n \n${ONE}\n\n\t\n${TWO}`,
      [
        [3, ONE],
        [6, TWO],
      ],
    ],
    [
      'breaks of two characters',
      `${ONE}\r\n${TWO}\r\n`,
      [
        [1, `${ONE}\r`],
        [2, `${TWO}\r`],
      ],
    ],
    ['one spread over lines', SPREAD, [[1, SPREAD]]],
    ['one spread over lines after blank ones', `\n\n${SPREAD}\n`, [[3, `${SPREAD}\n`]]],
    [
      'a faulty first line',
      `{"resourceType":\n${ONE}\n`,
      [
        [1, '{"resourceType":'],
        [2, ONE],
      ],
    ],
    [
      'a first line of another kind',
      `# two\n${ONE}\n${TWO}`,
      [
        [1, '# two'],
        [2, ONE],
        [3, TWO],
      ],
    ],
    [
      'a faulty line further on',
      `${ONE}\n{"a\n${TWO}`,
      [
        [1, ONE],
        [2, '{"a'],
        [3, TWO],
      ],
    ],
    [
      'a name twice in the first line',
      `{"a":1,"a":1}\n${ONE}`,
      [
        [1, '{"a":1,"a":1}'],
        [2, ONE],
      ],
    ],
    ['an array over lines', `[\n${ONE}\n]`, [[1, `[\n${ONE}\n]`]]],
    ['an array of items over lines', `[\n${ONE},\n${TWO}\n]`, [[1, `[\n${ONE},\n${TWO}\n]`]]],
    ['one line that is not whole', '{"resourceType":', [[1, '{"resourceType":']]],
    ['nothing', '', []],
    ['blanks alone', ' \n\t\r\n', []],
  ] as const)('%s', async (_what, file, texts) => {
    expect(await textsOf(file)).toEqual(texts);
  });

  test('is parted the same way however it arrives', async () => {
    const file = `${ONE}\n\n${SPREAD.replaceAll('\n', ' ')}\n{"broken\n${TWO}`;
    const whole = await textsOf(file, file.length * 2);
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 1, max: 60 }), async (length) => {
        expect(await textsOf(file, length)).toEqual(whole);
      }),
    );
  });

  test('over many lines loses no line and no byte (law)', async () => {
    const line = fc.string({ unit: 'grapheme' }).map((text) => JSON.stringify({ text }));
    await fc.assert(
      fc.asyncProperty(fc.array(line, { minLength: 2, maxLength: 8 }), async (lines) => {
        expect(await textsOf(lines.join('\n'))).toEqual(lines.map((text, index) => [index + 1, text]));
      }),
    );
  });
});
