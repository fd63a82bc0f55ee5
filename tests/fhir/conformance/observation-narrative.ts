import { ABSENT, observation, page, type RuleCases } from './observation-case.js';

const XHTML = 'http://www.w3.org/1999/xhtml';
const RULES = page('narrative.html#xhtml');
const DIV = 'Observation.text.div';
const TYPE = page('narrative.html#Narrative');

const wrapped = (inner: string): string => `<div xmlns="${XHTML}">${inner}</div>`;
const narrated = (inner: string): object => narrative({ status: 'generated', div: wrapped(inner) });
const narrative = (text: object): object => observation({ text });

/** R4 narrative: what its first rule takes, by example. */
const ALLOWED: Readonly<Record<string, string>> = {
  'a table with all its parts':
    '<table border="1" class="grid"><caption>Grip</caption><colgroup><col width="50%"/><col/></colgroup>' +
    '<thead><tr><th scope="col">Side</th><th>kgf</th></tr></thead><tfoot><tr><td colspan="2">seated</td></tr></tfoot>' +
    '<tbody><tr><td rowspan="1" align="left" valign="top">left</td><td>30.5</td></tr></tbody></table>',
  'headings of each level': '<h1>a</h1><h2>b</h2><h3>c</h3><h4>d</h4><h5>e</h5><h6>f</h6>',
  'lists of three kinds':
    '<ul><li>left</li></ul><ol start="2"><li>right</li></ol><dl><dt>Grip</dt><dd>30.5</dd></dl>',
  'words set off in each way':
    '<p><b>a</b><i>b</i><em>c</em><strong>d</strong><small>e</small><big>f</big><tt>g</tt><sub>h</sub><sup>i</sup>' +
    '<code>j</code><samp>k</samp><var>l</var><dfn>m</dfn><cite>n</cite><q>o</q><abbr title="p">p</abbr>' +
    '<acronym title="q">q</acronym></p>',
  'a link to a page': '<a href="http://example.org/grip" title="how">how it was done</a>',
  'a link within the text': '<a name="left">left</a> <a href="#left">see left</a>',
  'an image on another server, and no text': '<img src="http://example.org/hand.png" alt="hand"/>',
  'an image that a data URL holds':
    '<img src="data:image/png;base64,iVBORw0KGgo=" alt="hand" width="10" height="10"/>',
  'an image that is contained': '<img src="#hand" alt="hand"/> the hand',
  'styles on elements':
    '<p style="color: red; font-weight: bold">weak</p><span style="text-decoration:underline">left</span>',
  'classes, ids and languages':
    '<p class="important" id="p1" lang="de" dir="ltr" title="Griffkraft">Griffkraft</p>',
  'a quotation with its source': '<blockquote cite="http://example.org"><p>It hurts.</p></blockquote>',
  'text that is set as it is': '<pre>left   30.5\nright  31</pre>',
  'a rule and a break': 'left<br/>right<hr/>both',
  'the five entities of XML': 'a &lt; b &amp; c &gt; d &quot;e&quot; &apos;f&apos;',
  'characters by number': 'non&#160;breaking, &#xB0;',
  'a comment': '<!-- by the ward --> seated',
  'divisions in divisions': '<div><div><div>seated</div></div></div>',
  'letters beyond ASCII': 'Kraft: 握力 – 30°',
};

/** What it refuses: R4 narrative, "The XHTML content SHALL NOT contain a head, a body, ...", and txt-1. */
const REFUSED: Readonly<Record<string, string>> = {
  'a script': '<script>alert(1)</script> seated',
  'a form': '<form action="http://example.org"><p>seated</p></form>',
  'a field to fill in': 'seated <input type="text"/>',
  'a frame': 'seated <iframe src="http://example.org"></iframe>',
  'an object': 'seated <object data="http://example.org/a.swf"></object>',
  'a style sheet of its own': '<style>p { color: red }</style><p>seated</p>',
  'a style sheet from elsewhere': '<link rel="stylesheet" href="http://example.org/a.css"/> seated',
  'a head': '<head><title>Grip</title></head> seated',
  'a body': '<body>seated</body>',
  'a base for its links': '<base href="http://example.org"/> seated',
  'a film': '<video src="http://example.org/a.mp4"></video> seated',
  'a drawing': '<svg><circle r="1"/></svg> seated',
  'a section, which HTML 4 does not have': '<section>seated</section>',
  'a button': '<button>more</button>',
  'text of a font': '<font color="red">seated</font>',
  'an action when it is clicked': '<p onclick="alert(1)">seated</p>',
  'an action when an image fails': '<img src="x" onerror="alert(1)" alt="a"/>',
  'an attribute for programs': '<p data-side="left">seated</p>',
  'a window for the link': '<a href="http://example.org" target="_blank">how</a>',
  'an element that is not closed': '<p>seated',
  'elements closed in the wrong order': '<b><i>seated</b></i>',
  'a break that is not closed': 'left<br>right',
  'an attribute without quotes': '<p class=important>seated</p>',
  'an attribute without a value': '<p nowrap>seated</p>',
  'an ampersand by itself': 'left & right',
  'a less-than sign by itself': 'a < b',
  'an entity of HTML that XML does not have': 'non&nbsp;breaking',
  'an element in capitals': '<P>seated</P>',
};

export const narrativeCases: readonly RuleCases[] = [
  {
    rule: 'txt-1',
    section: RULES,
    keeps: Object.fromEntries(
      Object.entries(ALLOWED).map(([name, inner]) => [`a narrative with ${name}`, narrated(inner)]),
    ),
    breaks: {
      ...Object.fromEntries(
        Object.entries(REFUSED).map(([name, inner]) => [`a narrative with ${name}`, [DIV, narrated(inner)]]),
      ),
      'a narrative that is plain text': [
        DIV,
        narrative({ status: 'generated', div: 'Grip strength 30.5 kgf' }),
      ],
      'a narrative whose root is a paragraph': [
        DIV,
        narrative({ status: 'generated', div: `<p xmlns="${XHTML}">seated</p>` }),
      ],
      'a narrative without its name space': [
        DIV,
        narrative({ status: 'generated', div: '<div>seated</div>' }),
      ],
      'a narrative with text before its root': [
        DIV,
        narrative({ status: 'generated', div: `seated ${wrapped('left')}` }),
      ],
      'a narrative with a type of document': [
        DIV,
        narrative({ status: 'generated', div: `<!DOCTYPE html>${wrapped('left')}` }),
      ],
      'a narrative with a declaration of XML': [
        DIV,
        narrative({ status: 'generated', div: `<?xml version="1.0"?>${wrapped('left')}` }),
      ],
      'a narrative of two roots': [
        DIV,
        narrative({ status: 'generated', div: `${wrapped('left')}${wrapped('right')}` }),
      ],
      'a narrative with a name space of another kind': [
        DIV,
        narrative({ status: 'generated', div: '<div xmlns="http://hl7.org/fhir">seated</div>' }),
      ],
      'a narrative of a contained resource with a script': [
        'Observation.contained[0].text.div',
        observation({
          contained: [
            {
              resourceType: 'Patient',
              id: 'p',
              text: { status: 'generated', div: wrapped('<script>alert(1)</script> x') },
            },
          ],
          subject: { reference: '#p' },
        }),
      ],
    },
  },
  {
    rule: 'txt-2',
    section: RULES,
    keeps: {
      'a narrative with white space around its root': narrative({
        status: 'generated',
        div: `\n ${wrapped('seated')}\n`,
      }),
      'a narrative with its attributes in single quotes': narrative({
        status: 'generated',
        div: `<div xmlns='${XHTML}'>seated</div>`,
      }),
      'a narrative of one full stop': narrated('.'),
      'a narrative of an image alone': narrated('<p><img src="#hand" alt="hand"/></p>'),
    },
    breaks: {
      'a narrative of nothing': [DIV, narrated('')],
      'a narrative of white space': [DIV, narrated(' \n\t ')],
      'a narrative of an image without a source': [DIV, narrated('<img alt="hand"/>')],
      'a narrative of empty paragraphs': [DIV, narrated('<p> </p><p/>')],
      'a narrative of a comment alone': [DIV, narrated('<!-- seated -->')],
    },
  },
  {
    rule: 'required-binding',
    section: TYPE,
    on: 'Narrative.status',
    keeps: Object.fromEntries(
      ['generated', 'extensions', 'additional', 'empty'].map((status) => [
        `a narrative that is ${status}`,
        narrative({ status, div: wrapped('seated') }),
      ]),
    ),
    breaks: {
      'a narrative that is final': [
        'Observation.text.status',
        narrative({ status: 'final', div: wrapped('seated') }),
      ],
    },
  },
  {
    rule: 'cardinality',
    section: TYPE,
    on: 'Narrative.status',
    keeps: {
      'a narrative whose status is said to be absent': narrative({ _status: ABSENT, div: wrapped('seated') }),
    },
    breaks: {
      'a narrative without a status': ['Observation.text.status', narrative({ div: wrapped('seated') })],
    },
  },
  {
    rule: 'cardinality',
    section: TYPE,
    on: 'Narrative.div',
    keeps: { 'a narrative of status and text': narrated('seated') },
    breaks: { 'a narrative without its text': ['Observation.text.div', narrative({ status: 'generated' })] },
  },
  {
    rule: 'json-type',
    section: page('json.html#resources'),
    on: 'xhtml',
    keeps: {
      'a narrative with escaped quotes in its JSON':
        '{"resourceType":"Observation","status":"final","code":{"text":"Grip"},"text":{"status":"generated",' +
        '"div":"\\u003cdiv xmlns=\\"http:\\/\\/www.w3.org\\/1999\\/xhtml\\">seated\\u003c/div>"}}',
    },
    breaks: {
      'a narrative that is an object': [DIV, narrative({ status: 'generated', div: { p: 'seated' } })],
      'a narrative that is an array': [DIV, narrative({ status: 'generated', div: [wrapped('seated')] })],
    },
  },
  {
    rule: 'dom-6',
    section: page('domainresource.html#invs'),
    keeps: {
      'a resource without a narrative, which is only advised': observation(),
      'a resource with a narrative': narrated('Grip strength of the left hand: 30.5 kgf.'),
    },
  },
];
