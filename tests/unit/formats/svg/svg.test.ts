import { XMLValidator } from 'fast-xml-parser';
import { describe, expect, it } from 'vitest';
import { readSvg } from '../../../../shared/formats/svg/read.ts';
import { writeSvg } from '../../../../shared/formats/svg/write.ts';
import { pathLengthMm } from '../../../../shared/geometry/arcLength.ts';
import { startOf } from '../../../../shared/geometry/cubicPath.ts';
import { distance } from '../../../../shared/geometry/vector.ts';
import { PRINTABLE_SET } from '../../../support/printableSet.ts';

const DEFAULTS = { tracedLine: 'cutting', allowanceMm: 15 } as const;

function read(text: string) {
  const result = readSvg(text, 'nest.svg', DEFAULTS);
  if (!result.ok) throw new Error(result.error.sentence);
  return result.value;
}

function refusal(text: string): string {
  const result = readSvg(text, 'nest.svg', DEFAULTS);
  return result.ok ? 'read' : result.error.code;
}

function codes(text: string): string[] {
  return read(text).warnings.map(({ code }) => code);
}

const svg = (head: string, body: string) => `<svg xmlns="http://www.w3.org/2000/svg" ${head}>${body}</svg>`;
const SQUARE = '<path d="M0 0H100V100H0Z"/>';

/** Perimeter of the only piece in its only size. */
function perimeterMm(text: string): number {
  const { pieces, sizes } = read(text).value;
  return pieces[0]!.shapes[sizes[0]!]!.ring.reduce((sum, edge) => sum + pathLengthMm(edge.curve), 0);
}

describe('an SVG written and read again', () => {
  const text = writeSvg(PRINTABLE_SET, 'M');
  const { value, warnings } = read(text);

  it('is well-formed XML of a size in millimetres', () => {
    expect(XMLValidator.validate(text)).toBe(true);
    expect(text).toMatch(/width="[\d.]+mm" height="[\d.]+mm" viewBox="0 0 [\d.]+ [\d.]+"/);
  });

  it('holds the same pieces without a warning', () => {
    expect(warnings).toEqual([]);
    expect(value.sizes).toEqual(['M']);
    expect(value.pieces.map(({ id, name, kind, cut }) => ({ id, name, kind, cut }))).toEqual(
      PRINTABLE_SET.pieces.map(({ id, name, kind, cut }) => ({ id, name, kind, cut })),
    );
  });

  it.each(PRINTABLE_SET.pieces.map((piece, index) => ({ index, piece, name: piece.name })))(
    'gives back every edge and mark of $name',
    ({ index, piece }) => {
      const before = piece.shapes.M!;
      const after = value.pieces[index]!.shapes.M!;
      expect(roundedNumbers(after)).toEqual(roundedNumbers(before));
    },
  );

  it('has an id of its own for every piece, though names differ only in signs', () => {
    const [first] = PRINTABLE_SET.pieces;
    const ids = ['a b', 'a/b', 'a_b', 'a_20_b'];
    const pieces = ids.map((id) => ({ ...first!, id, name: id }));
    const drawn = writeSvg({ ...PRINTABLE_SET, pieces, seams: [] }, 'M');
    const found = [...drawn.matchAll(/ id="([^"]*)"/g)].map(([, id]) => id!);
    expect(new Set(found).size).toBe(ids.length + 1);
    for (const id of found) expect(id).toMatch(/^[A-Za-z_][\w.-]*$/); // an XML name without a colon
  });

  it('and written once more is the same text', () => {
    expect(writeSvg({ ...PRINTABLE_SET, pieces: value.pieces }, 'M')).toBe(text);
  });

  it('with damaged notes still yields the outline, and says so', () => {
    const damaged = text.replace('data-kind="front bodice"', 'data-kind="nonsense"');
    const result = read(damaged);
    expect(result.warnings.map(({ code }) => code)).toContain('marks-damaged');
  });
});

describe('the size of an SVG', () => {
  it.each([
    // CSS Values and Units 4, absolute lengths: 1 in = 25.4 mm = 72 pt = 6 pc = 96 px.
    { width: '100mm', sideMm: 100 },
    { width: '10cm', sideMm: 100 },
    { width: '2in', sideMm: 50.8 },
    { width: '144pt', sideMm: 50.8 },
    { width: '12pc', sideMm: 50.8 },
    { width: '192px', sideMm: 50.8 },
    { width: '400Q', sideMm: 100 },
    { width: '1.5e2mm', sideMm: 150 },
  ])('is read from a width of $width', ({ width, sideMm }) => {
    expect(perimeterMm(svg(`width="${width}" height="${width}" viewBox="0 0 100 100"`, SQUARE))).toBeCloseTo(
      4 * sideMm,
      9,
    );
  });

  it('without a viewBox counts user units as 96 to the inch', () => {
    expect(perimeterMm(svg('width="100mm" height="100mm"', SQUARE))).toBeCloseTo((400 * 25.4) / 96, 9);
  });

  it('in px is read with a warning', () => {
    expect(codes(svg('width="192px" height="192px" viewBox="0 0 100 100"', SQUARE))).toContain('px-size');
  });

  it('with other proportions than the viewBox fits inside, or stretches when it says so, with a warning', () => {
    const head = 'width="200mm" height="100mm" viewBox="0 0 100 100"';
    expect(perimeterMm(svg(head, SQUARE))).toBeCloseTo(400, 9);
    expect(perimeterMm(svg(`${head} preserveAspectRatio="none"`, SQUARE))).toBeCloseTo(600, 9);
    expect(codes(svg(head, SQUARE))).toContain('uneven-size');
  });

  it.each([
    '',
    'width="100" height="100"',
    'width="100%" height="100%"',
    'width="10em" height="10em"',
    'width="100mm"',
    'width="0mm" height="0mm"',
    'width="-5mm" height="5mm"',
  ])('is never guessed: refused with %j', (head) => {
    expect(refusal(svg(`${head} viewBox="0 0 100 100"`, SQUARE))).toBe('svg-no-size');
  });

  it('is refused with a viewBox of nothing', () => {
    expect(refusal(svg('width="100mm" height="100mm" viewBox="0 0 0 100"', SQUARE))).toBe('svg-bad-viewbox');
  });
});

describe('nested transforms', () => {
  const head = 'width="400mm" height="400mm" viewBox="0 0 400 400"';

  it('are applied from the inside out', () => {
    const text = svg(
      head,
      `<g id="M" transform="translate(100 50)"><g id="front" transform="scale(2) rotate(90)"><path transform="translate(10,0)" d="M0 0H40V30H0Z"/></g></g>`,
    );
    const { ring } = read(text).value.pieces[0]!.shapes.M!;
    expect(ring.length).toBe(4);
    // (10, 0) turned by 90° is (0, 10), doubled (0, 20), moved (100, 70).
    expect(Math.min(...ring.map((edge) => distance(startOf(edge.curve), [100, 70])))).toBeLessThan(1e-9);
    expect(ring.map((edge) => Math.round(pathLengthMm(edge.curve))).sort()).toEqual([60, 60, 80, 80]);
  });

  it('that mirror still give a clockwise ring', () => {
    const { ring } = read(svg(head, `<g transform="translate(200 0) scale(-1 1)">${SQUARE}</g>`)).value.pieces[0]!
      .shapes.one!;
    const corners = ring.map((edge) => startOf(edge.curve));
    const doubled = corners.reduce((sum, [x, y], i) => {
      const [nx, ny] = corners[(i + 1) % 4]!;
      return sum + x * ny - nx * y;
    }, 0);
    expect(doubled).toBeGreaterThan(0);
  });
});

describe('the lines of an SVG', () => {
  const head = 'width="400mm" height="400mm" viewBox="0 0 400 400"';

  it.each([
    { what: 'a rectangle', body: '<rect x="10" y="10" width="50" height="30"/>', lengthMm: 160, edges: 4 },
    { what: 'a polygon', body: '<polygon points="0,0 30,0 30,40"/>', lengthMm: 120, edges: 3 },
    { what: 'a polyline that comes back', body: '<polyline points="0,0 30,0 30,40 0,0"/>', lengthMm: 120, edges: 3 },
    {
      what: 'relative, short and quadratic commands',
      body: '<path d="m0 0h40v40q-20 20 -40 0z"/>',
      lengthMm: 40 + 40 + 40 + 45.9117,
      edges: 4,
    },
  ])('$what becomes a piece', ({ body, lengthMm, edges }) => {
    const text = svg(head, body);
    expect(perimeterMm(text)).toBeCloseTo(lengthMm, 3);
    expect(read(text).value.pieces[0]!.shapes.one!.ring.length).toBe(edges);
  });

  it('a circle has one edge and its circumference to 0.03 %', () => {
    const text = svg(head, '<circle cx="200" cy="200" r="100"/>');
    expect(read(text).value.pieces[0]!.shapes.one!.ring.length).toBe(1);
    expect(Math.abs(perimeterMm(text) / (200 * Math.PI) - 1)).toBeLessThan(3e-4);
  });

  it('that nobody sees are left out', () => {
    const text = svg(head, `<defs>${SQUARE}</defs><g style="display:none">${SQUARE}</g><rect width="50" height="50"/>`);
    expect(read(text).value.pieces.length).toBe(1);
    expect(perimeterMm(text)).toBeCloseTo(200, 9);
  });

  it('that are left out are told', () => {
    expect(
      codes(
        svg(
          head,
          `<g id="M"><g id="front">${SQUARE}<path d="M0 0L50 50"/></g><path d="M0 0L9 9"/><path d="M nonsense"/></g>`,
        ),
      ),
    ).toEqual(['lines-left-out', 'no-outline', 'line-unreadable']);
  });
});

describe('sizes and pieces', () => {
  const head = 'width="900mm" height="900mm" viewBox="0 0 900 900"';
  const group = (size: string, side: number, names: readonly string[]) =>
    `<g id="${size}">${names.map((name) => `<g id="${name}"><rect width="${side}" height="${side}"/></g>`).join('')}</g>`;

  it('are one group each, pieces matched by name whatever their order', () => {
    const { value, warnings } = read(
      svg(head, group('S', 50, ['front-S', 'back-S']) + group('M', 60, ['back-M', 'front-M'])),
    );
    expect(warnings).toEqual([]);
    expect(value.sizes).toEqual(['S', 'M']);
    expect(value.pieces.map(({ name, shapes }) => [name, Object.keys(shapes)])).toEqual([
      ['front', ['S', 'M']],
      ['back', ['S', 'M']],
    ]);
  });

  it('without names that agree are matched by order, and that is said', () => {
    const { value, warnings } = read(
      svg(head, group('S', 50, ['path1', 'path2']) + group('M', 60, ['path7', 'path8'])),
    );
    expect(warnings.map(({ code }) => code)).toEqual(['matched-by-order']);
    expect(value.pieces.map(({ shapes }) => Object.keys(shapes))).toEqual([
      ['S', 'M'],
      ['S', 'M'],
    ]);
  });

  it('that are incomplete are told', () => {
    const text = svg(head, group('S', 50, ['front', 'back']) + group('M', 60, ['front']));
    expect(codes(text)).toEqual(['size-incomplete']);
  });

  it('take their names from a label before an id', () => {
    const labelled = `<g xmlns:x="urn:x" x:label="Size 38" id="g1"><path aria-label="Sleeve" id="p9" d="M0 0H100V100H0Z"/></g>`;
    const { value } = read(svg(head, labelled));
    expect(value.sizes).toEqual(['Size 38']);
    expect(value.pieces[0]!.name).toBe('Sleeve');
  });
});

describe('files that are no use', () => {
  const head = 'width="9mm" height="9mm"';
  it.each([
    { what: 'no XML', text: 'hello', code: 'svg-broken' },
    { what: 'nothing', text: '', code: 'svg-broken' },
    { what: 'cut short', text: svg(head, SQUARE).slice(0, -9), code: 'svg-broken' },
    { what: 'another kind of XML', text: '<html><body/></html>', code: 'not-svg' },
    { what: 'no closed line', text: svg(head, '<path d="M0 0L5 5"/>'), code: 'svg-no-pieces' },
    {
      what: 'an entity bomb',
      text: `<!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;">]>${svg(head, '<text>&b;</text>')}`,
      code: 'svg-entities',
    },
    {
      what: 'endless nesting',
      text: svg(head, `${'<g>'.repeat(500)}${SQUARE}${'</g>'.repeat(500)}`),
      code: /svg-too-deep|svg-broken/,
    },
  ])('are refused: $what', ({ text, code }) => {
    expect(refusal(text)).toMatch(code);
  });
});

/** Every number rounded to a nanometre, which is what the file keeps. */
function roundedNumbers(value: unknown): unknown {
  return JSON.parse(JSON.stringify(value), (_, inner) =>
    typeof inner === 'number' ? Number(inner.toFixed(5)) + 0 : inner,
  );
}
