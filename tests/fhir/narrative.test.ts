import fc from 'fast-check';
import fhirpath from 'fhirpath';
import r4 from 'fhirpath/fhir-context/r4';
import { describe, expect, test } from 'vitest';
import { compileValidator, r4Definitions } from '../../src/fhir/index.js';

const validate = compileValidator(r4Definitions);

const div = (content: string): string => `<div xmlns="http://www.w3.org/1999/xhtml">${content}</div>`;

/** What is told of a narrative, each as rule and found. */
function told(html: string): readonly string[] {
  const issues = validate({ resourceType: 'Patient', text: { status: 'generated', div: html } });
  expect(issues.every(({ expression }) => expression === 'Patient.text.div')).toBe(true);
  return issues.map(({ rule, found }) => (typeof found === 'string' ? `${rule} ${found}` : rule));
}

// HTML 4.0, chapters 7 to 11 and 15; XHTML 1.0; XML 1.0.
test.each<[string, string]>([
  ['a text', div('Both knees bend to 140°.')],
  ['white space around the div', ` \n${div('a')}\n`],
  [
    'headings, lists and tables',
    div('<h1>a</h1><ul><li>b</li></ul><table><tr><td rowspan="2">c</td></tr></table>'),
  ],
  ['a list that counts from three (HTML 4.0, 10.2)', div('<ol start="3" type="a"><li value="4">a</li></ol>')],
  ['an element closed at once', div('a<br/><hr />')],
  ['an image and no text', div('<img src="#a" alt=""/>')],
  ['style in an attribute', div('<p style="color: red" class="warning">a</p>')],
  ['the entities of XML and characters by number', div('&lt; &amp; &#160; &#xB0;')],
  ['a no-break space as itself', div('a\u00a0b')],
  ['a comment', div('<!-- c -->a')],
  [
    'attributes in single quotes',
    "<div xmlns='http://www.w3.org/1999/xhtml' lang='de' xml:lang='de'>a</div>",
  ],
  ['links within and out', div('<a name="a">a</a><a href="#a">b</a><a href="https://a.example">c</a>')],
  ['a character beyond the first plane', div('\u{1f9b5}')],
  ['words about programs', div('<p title="no javascript: here">a javascript: b</p>')],
  ['a greater-than sign', div('a > b')],
])('a narrative may hold %s', (_what, html) => {
  expect(told(html)).toEqual([]);
});

// R4 narrative: "SHALL NOT contain a head, a body, external stylesheet references, scripts, forms, base/link/xlink,
// frames, iframes and objects"; txt-1 and txt-2.
test.each<[string, readonly string[], string]>([
  ['a script', ['txt-1 script'], div('<script>alert()</script>')],
  ['an event handler', ['txt-1 onclick'], div('<p onclick="go()">a</p>')],
  ['a form', ['txt-1 form', 'txt-1 input'], div('<form><input/></form>a')],
  ['a frame', ['txt-1 iframe'], div('a<iframe/>')],
  ['an object', ['txt-1 object'], div('a<object/>')],
  [
    'a link to a style sheet',
    ['txt-1 link', 'txt-1 rel'].slice(0, 1),
    div('a<link rel="stylesheet" href="a.css"/>'),
  ],
  ['a style element', ['txt-1 style'], div('<style>p {}</style>a')],
  ['a deprecated element', ['txt-1 font'], div('<font>a</font>')],
  ['an edited text (HTML 4.0, 9.4)', ['txt-1 ins'], div('<ins>a</ins>')],
  ['an element in capitals', ['txt-1 P'], div('<P>a</P>')],
  ['a link that runs a program', ['txt-1 javascript:go()'], div('<a href="javascript:go()">a</a>')],
  ['one that hides it', ['txt-1 &#106;avascript:go()'], div('<a href="&#106;avascript:go()">a</a>')],
  ['an entity of HTML', ['txt-1 &nbsp;'], div('a&nbsp;b')],
  ['a bare ampersand', ['txt-1 &'], div('a & b')],
  ['a character by number that XML does not have', ['txt-1'], div('a&#1;')],
  ['a control character', ['txt-1'], div('a\u0001')],
  ['half a character', ['txt-1'], div('a\ud83e')],
  ['a bare less-than sign', ['txt-1'], div('a < b')],
  ['a CDATA section', ['txt-1'], div('<![CDATA[a]]>')],
  ['the end of a CDATA section', ['txt-1'], div('a]]>')],
  ['a processing instruction', ['txt-1'], div('<?a b?>')],
  ['a document type', ['txt-1'], `<!DOCTYPE html>${div('a')}`],
  ['a comment with two hyphens', ['txt-1'], div('<!-- a -- b -->c')],
  ['an attribute without quotes', ['txt-1'], div('<p id=a>a</p>')],
  ['an attribute twice', ['txt-1 id'], div('<p id="a" id="b">a</p>')],
  ['an element that is not closed', ['txt-1 div'], '<div xmlns="http://www.w3.org/1999/xhtml"><p>a</p>'],
  ['elements closed in the wrong order', ['txt-1 b'], div('<b><i>a</b></i>')],
  ['nothing', ['txt-2'], div('')],
  ['blanks only', ['txt-2'], div(' \n<p> </p>')],
  ['an image without a source', ['txt-2'], div('<img alt="a"/>')],
  ['a comment only', ['txt-2'], div('<!-- a -->')],
])('a narrative must not hold %s', (_what, expected, html) => {
  expect(told(html)).toEqual(expected);
});

test.each<[string, string]>([
  ['a text alone', 'Both knees bend.'],
  ['another element', '<p xmlns="http://www.w3.org/1999/xhtml">a</p>'],
  ['two of them', div('a') + div('b')],
  ['a div of no namespace', '<div>a</div>'],
  ['a div of another namespace', '<div xmlns="http://www.w3.org/2000/svg">a</div>'],
  ['a div with a text behind it', `${div('a')} b`],
  ['a div under a prefix', '<h:div xmlns:h="http://www.w3.org/1999/xhtml">a</h:div>'],
])('a narrative is one div of XHTML and not %s', (_what, html) => {
  expect(told(html).every((each) => each.startsWith('txt-1'))).toBe(true);
  expect(told(html)).not.toEqual([]);
});

describe('the reader of narratives', () => {
  // The function htmlChecks() of FHIRPath for FHIR, as the package fhirpath has it.
  const htmlChecks = fhirpath.compile({ base: 'Narrative.div', expression: 'htmlChecks()' }, r4);
  const pieces = fc.constantFrom(
    ...[
      '<p>',
      '</p>',
      '<b>',
      '</b>',
      '<br/>',
      '<img src="a"/>',
      '<img/>',
      '<script>',
      '</script>',
      '<!--',
      '-->',
      '<',
      '>',
    ],
    ...[
      'a',
      ' ',
      '&amp;',
      '&nbsp;',
      '&',
      '&#0;',
      '&#xA0;',
      ']]>',
      '<p id="a">',
      '<p id="a" id="b">',
      '<p onclick="a">',
      '"',
      "'",
    ],
    ...['<a href="a">', '</a>', '<P>', '</div>', '<div>', '<?a?>', '\u0001', '\u00a0', '\ud83e'],
  );

  test('agrees with the function that FHIR gives FHIRPath for it', () => {
    fc.assert(
      fc.property(fc.array(pieces, { maxLength: 8 }), (parts) => {
        const html = div(parts.join(''));
        expect([told(html).length === 0], html).toEqual(htmlChecks(html));
      }),
      { numRuns: 5000 },
    );
  });

  test('takes its time from the length of a narrative, not from what stands in it', () => {
    const started = performance.now();
    for (const bad of ['<p ', '<p a="', '<!-- ', '&', '<p '.repeat(5) + 'a=', ' '])
      told(div(bad.repeat(20_000)));
    expect(performance.now() - started).toBeLessThan(2000);
  });
});
