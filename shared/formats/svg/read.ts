// Pattern pieces out of an SVG whose lines have a real-world size: one group a size, in it one group or one closed line a
// piece. What cannot be read is left out and said; a file without a size of its own is refused, never guessed.
import { fail, ok, type Result, type Salvaged, type Warning } from '../../base/result.ts';
import { type Affine, compose } from '../../geometry/transform.ts';
import type { Piece, Shape, Size } from '../../pattern/model.ts';
import { areaMm2, type ImportDefaults, shapeFromOutline } from './importedShape.ts';
import { type Outline, outlinesOf, transformOf } from './outlines.ts';
import { isOwnPiece, type PieceFacts, readOwnPiece } from './ownPiece.ts';
import { parseSvgTree, type SvgElement } from './tree.ts';
import { worldSize } from './worldSize.ts';

export interface ImportedPieces {
  readonly sizes: readonly Size[];
  readonly pieces: readonly Piece[];
}

/** @param file its name, for the origin of the pieces */
export function readSvg(text: string, file: string, defaults: ImportDefaults): Result<Salvaged<ImportedPieces>> {
  const tree = parseSvgTree(text);
  if (!tree.ok) return tree;
  const world = worldSize(tree.value.attributes);
  if (!world.ok) return world;
  const warnings: Warning[] = [...world.value.warnings];
  const groups = sizeGroups(tree.value, world.value.mmFromUser, warnings);
  const found = groups.map((group) => ({ size: group.size, items: itemsOf(group, defaults, warnings) }));
  const withPieces = found.filter(({ items }) => items.length > 0);
  if (withPieces.length === 0) {
    return fail(
      'svg-no-pieces',
      'The SVG holds no closed outline, so there is no piece to read; close the outlines and save it again.',
    );
  }
  const pieces = matchSizes(withPieces, file, warnings);
  return ok({ value: { sizes: withPieces.map(({ size }) => size), pieces }, warnings });
}

/** Sizes of a file that names none. */
const ONLY_SIZE = 'one';
/** Groups that hold nothing drawn by themselves. */
const NOT_DRAWN = new Set([
  'defs',
  'symbol',
  'clipPath',
  'mask',
  'pattern',
  'marker',
  'style',
  'title',
  'desc',
  'metadata',
  'script',
  'text',
  'image',
  'foreignObject',
]);

interface SizeGroup {
  readonly size: Size;
  readonly children: readonly SvgElement[];
  /** From the group's inside. */
  readonly mmFromInside: Affine;
}

/** The groups under the root are the sizes; a single nameless wrapper around them is looked through. */
function sizeGroups(root: SvgElement, mmFromRoot: Affine, warnings: Warning[]): SizeGroup[] {
  let children = drawn(root);
  let map = mmFromRoot;
  while (children.length === 1 && children[0]!.name === 'g' && nameOf(children[0]!) === null) {
    map = compose(map, transformOf(children[0]!));
    children = drawn(children[0]!);
  }
  const groups = children.filter(({ name }) => name === 'g');
  if (groups.length === 0 || groups.some(isOwnPiece)) return [{ size: ONLY_SIZE, children, mmFromInside: map }];
  if (groups.length < children.length) {
    warnings.push({
      code: 'outside-sizes',
      message: 'Lines outside the size groups were left out; move them into the group of their size.',
    });
  }
  const taken = new Map<string, number>();
  return groups.map((group, i) => {
    const name = nameOf(group) ?? `size ${i + 1}`;
    const before = taken.get(name) ?? 0;
    taken.set(name, before + 1);
    return {
      size: before === 0 ? name : `${name} (${before + 1})`,
      children: drawn(group),
      mmFromInside: compose(map, transformOf(group)),
    };
  });
}

function drawn(element: SvgElement): SvgElement[] {
  return element.children.filter((child) => !NOT_DRAWN.has(child.name) && !isHidden(child));
}

function isHidden({ attributes }: SvgElement): boolean {
  return attributes.display === 'none' || /(^|;)\s*display\s*:\s*none/.test(attributes.style ?? '');
}

/** What a person called the element: our own size, a label of any drawing program, its title, its id. */
function nameOf(element: SvgElement): string | null {
  const { attributes } = element;
  const label = Object.keys(attributes).find((key) => key === 'label' || key.endsWith(':label'));
  const title = element.children.find(({ name }) => name === 'title')?.text.trim();
  const name =
    attributes['data-size'] ?? (label && attributes[label]) ?? attributes['aria-label'] ?? (title || attributes.id);
  return name?.trim() || null;
}

/** One piece in one size, before it is matched with the other sizes. */
interface Item {
  readonly name: string | null;
  readonly shape: Shape;
  readonly facts: PieceFacts | null;
}

function itemsOf(group: SizeGroup, defaults: ImportDefaults, warnings: Warning[]): Item[] {
  const items: Item[] = [];
  for (const child of group.children) {
    if (isOwnPiece(child)) {
      const own = readOwnPiece(child, group.mmFromInside);
      if (own !== null) {
        items.push({ name: own.facts.id, shape: own.shape, facts: own.facts });
        continue;
      }
      warnings.push({
        code: 'marks-damaged',
        message: `The notes of "${nameOf(child) ?? 'a piece'}" were damaged, so only its outline was read; check its notches and allowances.`,
      });
    }
    const outlines = allOutlines(child, group.mmFromInside, group.size, warnings);
    const closed = outlines.filter((outline) => outline.closed).sort((a, b) => areaMm2(b.path) - areaMm2(a.path));
    const name = nameOf(child);
    const called = name === null ? 'A piece' : `"${name}"`;
    const largest = closed[0];
    if (largest === undefined || areaMm2(largest.path) < LEAST_AREA_MM2) {
      if (outlines.length > 0) {
        warnings.push({
          code: 'no-outline',
          message: `${called} in size ${group.size} has no closed outline and was left out; close its outline.`,
        });
      }
      continue;
    }
    if (outlines.length > 1) {
      warnings.push({
        code: 'lines-left-out',
        message: `${called} in size ${group.size} has ${outlines.length - 1} more line(s) besides its largest outline; they were left out.`,
      });
    }
    items.push({ name, shape: shapeFromOutline(largest.path, defaults), facts: null });
  }
  return items;
}

/** Smaller closed lines are marks, not pieces: a square of 10 mm. */
const LEAST_AREA_MM2 = 100;

function allOutlines(element: SvgElement, mmFromParent: Affine, size: Size, warnings: Warning[]): Outline[] {
  if (element.name === 'use' || element.name === 'svg') {
    warnings.push({
      code: 'not-followed',
      message: `Size ${size} holds a copy or a nested drawing (<${element.name}>), which is not followed; turn it into plain lines.`,
    });
    return [];
  }
  const own = outlinesOf(element, mmFromParent);
  if (own === null) {
    warnings.push({
      code: 'line-unreadable',
      message: `A line in size ${size} could not be read and was left out; draw it again.`,
    });
  }
  const map = compose(mmFromParent, transformOf(element));
  return [...(own ?? []), ...drawn(element).flatMap((child) => allOutlines(child, map, size, warnings))];
}

interface SizeItems {
  readonly size: Size;
  readonly items: readonly Item[];
}

/** The same piece in every size: by name where the names agree, otherwise by order. */
function matchSizes(found: readonly SizeItems[], file: string, warnings: Warning[]): Piece[] {
  const keys = found.map(({ size, items }) =>
    items.map((item) => (item.name === null ? null : withoutSize(item.name, size))),
  );
  const byName = keys.every(
    (own) => own.every((key) => key !== null) && new Set(own).size === own.length && sharesKeys(own, keys[0]!),
  );
  const keyOf = (sizeIndex: number, i: number): string => (byName ? keys[sizeIndex]![i]! : `piece ${i + 1}`);
  if (!byName && found.length > 1) {
    warnings.push({
      code: 'matched-by-order',
      message:
        'The pieces have no names that agree between the sizes, so they were matched by their order; check each piece in each size.',
    });
  }
  const allKeys = [...new Set(found.flatMap(({ items }, s) => items.map((_, i) => keyOf(s, i))))];
  const pieces = allKeys.map((key, index): Piece => {
    const members = found.flatMap(({ size, items }, s) =>
      items.filter((_, i) => keyOf(s, i) === key).map((item) => ({ size, item })),
    );
    const missing = found.filter(({ size }) => !members.some((member) => member.size === size));
    if (missing.length > 0) {
      warnings.push({
        code: 'size-incomplete',
        message: `"${key}" is missing in size ${missing.map(({ size }) => size).join(', ')}; add it or leave the size out.`,
      });
    }
    const facts = members.find(({ item }) => item.facts !== null)?.item.facts ?? plainFacts(`p${index + 1}`, key);
    return {
      ...facts,
      shapes: Object.fromEntries(members.map(({ size, item }) => [size, item.shape])),
      origin: { source: 'import', detail: file },
    };
  });
  return pieces;
}

/** Most names must be found again in the first size; one that is not is a missing piece, not a naming scheme. */
function sharesKeys(own: readonly (string | null)[], first: readonly (string | null)[]): boolean {
  return own.filter((key) => first.includes(key)).length * 2 > Math.min(own.length, first.length);
}

/** Ids are unique in a document, so a drawing often carries the size in them: "front-M", "M_front". */
function withoutSize(name: string, size: Size): string {
  const parts = name.split(/[\s_.-]+/);
  const rest = parts.filter((part) => part.toLowerCase() !== size.toLowerCase());
  return rest.length === 0 ? name : rest.join(' ');
}

function plainFacts(id: string, name: string): PieceFacts {
  return { id, name, kind: 'other', cut: [], grainIntent: 'straight', nap: 'none' };
}
