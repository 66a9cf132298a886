// SVG text as a plain tree of elements, with the dangers of XML left outside: entity declarations, endless nesting and
// oversized files are refused in words.
import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { fail, ok, type Result } from '../../base/result.ts';

export interface SvgElement {
  /** Tag name without namespace prefix. */
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly SvgElement[];
  /** Text directly inside. */
  readonly text: string;
}

/** The root <svg> element. */
export function parseSvgTree(text: string): Result<SvgElement> {
  if (text.length > MOST_CHARACTERS) {
    return fail(
      'svg-too-large',
      'The SVG file is larger than 64 million characters; export only the pattern lines and try again.',
    );
  }
  if (text.includes('<!ENTITY')) {
    return fail(
      'svg-entities',
      'The SVG file declares entities, which can hide harmful content; save it again as plain SVG and try again.',
    );
  }
  if (XMLValidator.validate(text) !== true) return fail('svg-broken', NOT_READABLE);
  const parsed = parse(text);
  if (!parsed.ok) return parsed;
  const roots = elementsOf(parsed.value, 0);
  if (roots === null) {
    return fail('svg-too-deep', 'The SVG file nests its groups more than 100 deep; flatten the groups and try again.');
  }
  const root = roots.elements.find(({ name }) => name === 'svg');
  if (root === undefined)
    return fail('not-svg', 'This is not an SVG file: it has no <svg> element; choose a file saved as SVG.');
  return ok(root);
}

const MOST_CHARACTERS = 64_000_000;
const DEEPEST = 100;
const NOT_READABLE =
  'The file is not a readable SVG: its XML is broken or cut short; save it again as plain SVG and try again.';

/** What the parser yields with preserveOrder: one key for the tag, `:@` for the attributes, `#text` for text. */
type RawNode = Readonly<Record<string, unknown>>;

function parse(text: string): Result<readonly RawNode[]> {
  const parser = new XMLParser({
    preserveOrder: true,
    ignoreAttributes: false,
    attributeNamePrefix: '',
    parseAttributeValue: false,
    parseTagValue: false,
    processEntities: false,
    ignoreDeclaration: true,
    ignorePiTags: true,
    maxNestedTags: DEEPEST + 1,
  });
  try {
    return ok(parser.parse(text) as readonly RawNode[]);
  } catch {
    // The parser throws on what its validator lets through, such as nesting beyond its limit.
    return fail('svg-broken', NOT_READABLE);
  }
}

interface Content {
  readonly elements: SvgElement[];
  readonly text: string;
}

function elementsOf(nodes: readonly RawNode[], depth: number): Content | null {
  if (depth > DEEPEST) return null;
  const elements: SvgElement[] = [];
  let text = '';
  for (const node of nodes) {
    const tag = Object.keys(node).find((key) => key !== ':@');
    if (tag === undefined) continue;
    const inner = node[tag];
    if (tag === '#text') text += decodeEntities(String(inner));
    if (!Array.isArray(inner)) continue;
    const content = elementsOf(inner as readonly RawNode[], depth + 1);
    if (content === null) return null;
    const raw = (node[':@'] ?? {}) as Readonly<Record<string, unknown>>;
    const attributes = Object.fromEntries(
      Object.entries(raw).map(([key, value]) => [key, decodeEntities(String(value))]),
    );
    elements.push({ name: tag.replace(/^.*:/, ''), attributes, children: content.elements, text: content.text });
  }
  return { elements, text };
}

const NAMED: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };
const HIGHEST_CODE_POINT = 0x10ffff;

/** The five entities of XML and character numbers; others stay as they are, since none can be declared. */
function decodeEntities(text: string): string {
  return text.replace(/&(?:#x([0-9a-f]+)|#(\d+)|(\w+));/gi, (whole, hex, decimal, name) => {
    if (name !== undefined) return NAMED[name] ?? whole;
    const code = hex === undefined ? Number.parseInt(decimal, 10) : Number.parseInt(hex, 16);
    return code <= HIGHEST_CODE_POINT ? String.fromCodePoint(code) : whole;
  });
}
