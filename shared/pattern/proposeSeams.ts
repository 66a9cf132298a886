// Seams proposed from kinds, edge names, notches and lengths: what is usually sewn to what. The person confirms or changes
// them; nothing that is confirmed is touched.
import { edgeLabels } from './guessEdges.ts';
import { bodySide, isBodice, isCollar, isPrincess, isSkirt, isSleeve, isTrouser, normalLabel } from './kinds.ts';
import { sewnLength } from './measure.ts';
import type { JoinKind, PatternSet, Piece, PieceKind, Seam, SeamSide, Size } from './model.ts';
import { bestWay, type Ends, type NamedEdge, spanBetween, wholeEdge } from './orientSpan.ts';

/** The set with its confirmed seams and fresh proposals for the edges that these leave free. */
export function withProposedSeams(set: PatternSet): PatternSet {
  return { ...set, seams: [...set.seams.filter((seam) => seam.status === 'confirmed'), ...proposeSeams(set)] };
}

/** Proposed seams only, for edges that no confirmed seam holds. */
export function proposeSeams(set: PatternSet): readonly Seam[] {
  const book = new Proposals(set);
  book.pairs('shoulder', 'shoulder', SHOULDER_ENDS, 'eased');
  book.pairs('side', 'side', SIDE_ENDS, 'even');
  book.princess();
  book.yokes();
  book.pairs('inseam', 'inseam', { start: ['rise'], end: ['hem'] }, 'even');
  book.sleeveSeams();
  book.armholes();
  book.collars();
  book.waists();
  book.cuffs();
  book.facings();
  book.mirrors();
  return book.seams;
}

const SHOULDER_ENDS: Ends = { start: ['neck', 'collar'], end: ['armhole'] };
const SIDE_ENDS: Ends = { start: ['armhole', 'shoulder', 'waist top'], end: ['hem', 'waist'] };
/** A side of a skirt or trouser hangs from the waist and ends at the hem; a bodice side ends at the waist. */
const HANGING_ENDS: Ends = { start: ['waist'], end: ['hem'] };
const UNDERARM_ENDS: Ends = { start: ['cap', 'cap front', 'cap back'], end: ['hem'] };
/** From the centre of the front out, or from the shoulder or side in to the centre of the back. */
const FROM_CENTRE: Ends = { start: ['fold', 'centre front', 'centre back', 'opening'], end: ['shoulder', 'side'] };
const TO_CENTRE: Ends = { start: FROM_CENTRE.end, end: FROM_CENTRE.start };
const YOKE_ENDS: Ends = { start: ['fold', 'centre back', 'opening'], end: ['armhole'] };
const FROM_UNDERARM: Ends = { start: ['side', 'princess'], end: ['shoulder'] };
const TO_UNDERARM: Ends = { start: ['shoulder'], end: ['side', 'princess'] };

/** Edges further apart in length than this are not taken for partners: half against whole is 2. */
const LENGTH_RATIO = 1.35;

/** The proposals for one set while they are being made: what is still free, and what has been found. */
class Proposals {
  readonly seams: Seam[] = [];
  private readonly edges: readonly NamedEdge[];
  private readonly taken = new Set<string>();

  constructor(private readonly set: PatternSet) {
    this.edges = set.pieces.flatMap((piece) => namedEdges(set, piece));
    for (const { piece, edge } of set.seams.filter((s) => s.status === 'confirmed').flatMap((s) => s.sides.flat(2)))
      this.taken.add(keyOf(piece, edge));
  }

  /** Front to back edges of one name, within bodice, skirt, trouser, collar and facing each. */
  pairs(name: string, label: string, ends: Ends, join: JoinKind): void {
    for (const family of FAMILIES) {
      const free = this.free((e) => e.label === label && family(e.piece.kind));
      const isFirst = (e: NamedEdge) => bodySide(e.piece) === 'front';
      const isSecond = (e: NamedEdge) => bodySide(e.piece) === 'back';
      for (const [a, b] of nearestInLength(free.filter(isFirst), free.filter(isSecond))) {
        const way = isSkirt(a.piece.kind) || isTrouser(a.piece.kind) ? hanging(ends) : ends;
        this.joinTwo(nameFor(name, a.piece), a, b, way, join);
      }
    }
  }

  /** Panels to the side panel between them, which names the edge of each or leaves it to the lengths. */
  princess(): void {
    for (const end of ['front', 'back'] as const) {
      const onPanel = (e: NamedEdge) => e.label === `princess ${end}` || e.label === 'princess';
      const panels = this.free((e) => isPrincess(e.label) && isBodice(e.piece.kind) && bodySide(e.piece) === end);
      const named = this.free((e) => e.piece.kind === 'side panel' && e.label === `princess ${end}`);
      const sidePanels = named.length > 0 ? named : this.free((e) => e.piece.kind === 'side panel' && onPanel(e));
      for (const [a, b] of nearestInLength(panels, sidePanels)) this.joinTwo('princess', a, b, SIDE_ENDS, 'eased');
    }
  }

  /** A yoke takes the place of the upper back: shoulder to the front's, lower edge to the top of the back below it. */
  yokes(): void {
    const isYoke = (e: NamedEdge) => e.piece.kind === 'yoke';
    const shoulders = this.free((e) => e.label === 'shoulder' && isBodice(e.piece.kind) && !isYoke(e));
    const yokeShoulders = this.free((e) => e.label === 'shoulder' && isYoke(e));
    for (const [a, b] of nearestInLength(shoulders, yokeShoulders))
      this.joinTwo('yoke shoulder', a, b, SHOULDER_ENDS, 'even');
    const called = (e: NamedEdge, names: readonly string[]) => names.includes(writtenLabel(e));
    const lower = this.free((e) => isYoke(e) && called(e, ['lower', 'bottom', 'yoke', 'back']));
    const upper = this.free((e) => isBodice(e.piece.kind) && !isYoke(e) && called(e, ['top', 'upper', 'yoke']));
    for (const [a, b] of nearestInLength(lower, upper)) {
      const first: SeamSide = [toward(a, YOKE_ENDS)];
      this.propose(
        'yoke',
        first,
        [toward(b, YOKE_ENDS)],
        this.hasMouths([{ named: b, span: first[0]! }]) ? 'pleated' : 'even',
      );
    }
  }

  /** The sleeve closed under the arm, and the two seams of a two-piece sleeve. */
  sleeveSeams(): void {
    for (const piece of this.set.pieces.filter((p) => p.kind === 'sleeve')) {
      const under = this.free((e) => e.piece === piece && e.label.startsWith('underarm'));
      const front = under.find((e) => e.label === 'underarm front') ?? under[0];
      const back = under.find((e) => e !== front);
      if (front !== undefined && back !== undefined)
        this.joinTwo('sleeve underarm', front, back, UNDERARM_ENDS, 'even');
    }
    for (const label of ['hindarm', 'forearm']) {
      const free = this.free((e) => e.label === label);
      const top = free.filter((e) => e.piece.kind === 'top sleeve');
      const under = free.filter((e) => e.piece.kind === 'under sleeve');
      // The side that may be fuller comes second: the top sleeve behind, the under sleeve in front.
      const [first, second] = label === 'hindarm' ? [under, top] : [top, under];
      for (const [a, b] of nearestInLength(first, second))
        this.joinTwo(label, a, b, UNDERARM_ENDS, label === 'hindarm' ? 'eased' : 'stretched');
    }
  }

  /** Cap to armhole, from the front underarm over the shoulder to the back underarm. */
  armholes(): void {
    const armholes = this.free((e) => e.label === 'armhole' && isBodice(e.piece.kind));
    const caps = this.free((e) => e.label.startsWith('cap') && isSleeve(e.piece.kind));
    const front = armholes.filter((e) => bodySide(e.piece) !== 'back');
    const back = armholes.filter((e) => bodySide(e.piece) === 'back');
    if (front.length === 0 || back.length === 0 || caps.length === 0) return;
    const body = [...front.map((e) => toward(e, FROM_UNDERARM)), ...back.map((e) => toward(e, TO_UNDERARM))];
    const cap = chainOrder(caps).map((e) => toward(e, CAP_ENDS));
    this.propose('armhole', body, this.bestChain(body, cap, front[0]!.size), 'eased');
  }

  /** Collar, stand or neckband to the neckline. */
  collars(): void {
    const neck = this.chain('neck', isBodice);
    const bands = this.set.pieces.filter((p) => isCollar(p.kind) && p.kind !== 'collar');
    const pieces = bands.length > 0 ? bands : this.set.pieces.filter((p) => p.kind === 'collar');
    this.joinBand('neck', neck, pieces, 'even', ['neck']);
  }

  /** Bodice waist to skirt or trouser waist; a waistband where there is no bodice. */
  waists(): void {
    const lower = this.chain('waist', (kind) => isSkirt(kind) || isTrouser(kind));
    const upper = this.chain('waist', isBodice);
    if (lower.length === 0) return;
    if (upper.length > 0) {
      const pleated = this.hasMouths(lower) ? 'pleated' : 'even';
      this.propose('waist', upper.map(spanOf), lower.map(spanOf), pleated);
      return;
    }
    const bands = this.set.pieces.filter((p) => p.kind === 'waistband');
    this.joinBand('waistband', lower, bands, 'eased', ['waist']);
  }

  /** Sleeve hem to its cuff or band. */
  cuffs(): void {
    for (const sleeve of this.set.pieces.filter((p) => p.kind === 'sleeve')) {
      const hems = this.free((e) => e.piece === sleeve && e.label === 'hem');
      const cuffs = this.set.pieces.filter((p) => p.kind === 'cuff');
      const [hem] = hems;
      if (hem === undefined || cuffs.length === 0) continue;
      const band = closestTo(this.bandEdges(cuffs, ['hem']), lengthOf(hem));
      if (band === undefined) continue;
      const first = [wholeEdge(band, 'forward')];
      const ways = [[wholeEdge(hem, 'forward')], [wholeEdge(hem, 'reversed')]];
      const join = this.hasMouths([{ named: hem, span: ways[0]![0]! }]) ? 'pleated' : 'even';
      this.propose('sleeve band', first, bestWay(this.set, first, ways, hem.size), join);
    }
  }

  /** Facings to the garment edge of the same name, where no collar seam has used that facing. */
  facings(): void {
    for (const label of ['neck', 'armhole', 'waist']) {
      const facing = this.chain(label, (kind) => kind === 'facing');
      if (facing.length === 0) continue;
      const garment = this.chain(label, (kind) => isBodice(kind) || isSkirt(kind), 'taken too');
      const sides = new Set(facing.map((f) => bodySide(f.named.piece)));
      const faced = garment.filter((g) => sides.has(null) || sides.has(bodySide(g.named.piece)));
      if (faced.length === 0) continue;
      const body = faced.map(spanOf);
      this.propose(`${label} facing`, body, this.bestChain(body, facing.map(spanOf), faced[0]!.named.size), 'even');
    }
  }

  /** Centre seams and rises are sewn to their own mirror image. */
  mirrors(): void {
    const free = this.free(
      (e) => (e.label.startsWith('centre') || e.label === 'rise') && roleOf(e) === 'seam' && !isSingle(e.piece),
    );
    for (const edge of free) {
      const side: SeamSide = [wholeEdge(edge, 'forward')];
      this.propose(`${edge.piece.name} ${edge.label}`, side, side, 'even');
    }
  }

  private free(test: (edge: NamedEdge) => boolean): NamedEdge[] {
    return this.edges.filter((e) => test(e) && !this.taken.has(keyOf(e.piece.id, e.edge)) && roleOf(e) === 'seam');
  }

  /** Front pieces from their centre out, then back pieces in to theirs. */
  private chain(
    label: string,
    test: (kind: PieceKind) => boolean,
    also: 'free only' | 'taken too' = 'free only',
  ): Link[] {
    const wanted = (e: NamedEdge) => e.label === label && test(e.piece.kind) && roleOf(e) === 'seam';
    const all = also === 'taken too' ? this.edges.filter(wanted) : this.free(wanted);
    const front = all.filter((e) => bodySide(e.piece) !== 'back');
    const back = all.filter((e) => bodySide(e.piece) === 'back');
    return [
      ...front.map((named) => ({ named, span: toward(named, FROM_CENTRE) })),
      ...back.map((named) => ({ named, span: toward(named, front.length > 0 ? TO_CENTRE : FROM_CENTRE) })),
    ];
  }

  /** A band or collar, in one piece or in a front and a back, to a chain of garment edges. */
  private joinBand(
    name: string,
    chain: readonly Link[],
    pieces: readonly Piece[],
    join: JoinKind,
    labels: readonly string[],
  ): void {
    if (chain.length === 0 || pieces.length === 0) return;
    const body = chain.map(spanOf);
    const parts = chain.flatMap(({ named }) => {
      const own = pieces.filter((p) => bodySide(p) !== null && bodySide(p) === bodySide(named.piece));
      const part = closestTo(this.bandEdges(own, labels), lengthOf(named));
      return part === undefined ? [] : [part];
    });
    if (parts.length === chain.length) {
      const band = parts.map((part, i) => toward(part, i === 0 ? FROM_CENTRE : TO_CENTRE));
      this.propose(name, body, this.bestChain(body, band, parts[0]!.size), join);
      return;
    }
    const halfMm = chain.reduce((sum, { named }) => sum + lengthOf(named), 0);
    const edges = this.bandEdges(pieces, labels);
    const whole = closestTo(edges, halfMm) ?? closestTo(edges, 2 * halfMm);
    if (whole === undefined) return;
    // The chain runs from the centre of the front to that of the back, where a collar or a band has its fold.
    this.propose(name, body, this.bestChain(body, [toward(whole, TO_CENTRE)], whole.size), join);
  }

  /** Edges of a band that may be the one sewn on: named so, or not named at all. */
  private bandEdges(pieces: readonly Piece[], labels: readonly string[]): NamedEdge[] {
    const all = this.free((e) => pieces.includes(e.piece) && roleOf(e) === 'seam');
    const named = all.filter((e) => labels.includes(e.label));
    return named.length > 0 ? named : all.filter((e) => e.label === '');
  }

  private joinTwo(name: string, a: NamedEdge, b: NamedEdge, ends: Ends, join: JoinKind): void {
    const first: SeamSide = [toward(a, ends)];
    const known = spanBetween(b, ends);
    const ways: SeamSide[] = [[wholeEdge(b, 'forward')], [wholeEdge(b, 'reversed')]];
    this.propose(name, first, known === null ? bestWay(this.set, first, ways, a.size) : [known], join);
  }

  /**
   * The chain walked in the one of its ways that suits the notches of the other side best; the preferred way where
   * they do not tell.
   */
  private bestChain(first: SeamSide, preferred: SeamSide, size: Size): SeamSide {
    const ways = (['forward', 'reversed'] as const).map((way) =>
      preferred.map((span) => ({ ...span, reversed: way === 'reversed' })),
    );
    return bestWay(this.set, first, [preferred, ...ways], size);
  }

  private hasMouths(links: readonly Link[]): boolean {
    return links.some(({ named }) => named.shape.pleats.some((pleat) => pleat.edge === named.edge));
  }

  private propose(name: string, first: SeamSide, second: SeamSide, join: JoinKind): void {
    for (const { piece, edge } of [...first, ...second]) this.taken.add(keyOf(piece, edge));
    const known = new Set([...this.set.seams, ...this.seams].map((seam) => seam.id));
    const base = name.toLowerCase().replaceAll(/[^\p{L}\p{N}]+/gu, '-');
    let id = base;
    for (let n = 2; known.has(id); n++) id = `${base}-${n}`;
    this.seams.push({
      id,
      name,
      sides: [first, second],
      join,
      wantedEaseMm: null,
      wantedSectionsMm: null,
      overlapMm: 0,
      status: 'proposed',
    });
  }
}

interface Link {
  readonly named: NamedEdge;
  readonly span: SeamSide[number];
}

const CAP_ENDS: Ends = { start: ['underarm', 'underarm front', 'side'], end: ['shoulder', 'underarm back'] };

const FAMILIES: readonly ((kind: PieceKind) => boolean)[] = [
  isBodice,
  isSkirt,
  isTrouser,
  isCollar,
  (kind) => kind === 'facing',
];

const EXACT = { assumedAllowanceSigmaMm: 0 } as const;

function namedEdges(set: PatternSet, piece: Piece): NamedEdge[] {
  const size = piece.shapes[set.baseSize] === undefined ? Object.keys(piece.shapes)[0] : set.baseSize;
  const shape = size === undefined ? undefined : piece.shapes[size];
  if (size === undefined || shape === undefined) return [];
  const labels = edgeLabels(piece, shape);
  return shape.ring.map((edge) => ({ piece, shape, size, edge: edge.id, label: labels.get(edge.id) ?? '' }));
}

/** Pairs of edges nearest in sewn length; an edge has one partner. */
function nearestInLength(first: readonly NamedEdge[], second: readonly NamedEdge[]): [NamedEdge, NamedEdge][] {
  const offers = first
    .flatMap((a) => second.map((b) => ({ a, b, ratio: ratioOf(lengthOf(a), lengthOf(b)) })))
    .filter(({ ratio }) => ratio <= LENGTH_RATIO)
    .toSorted((x, y) => x.ratio - y.ratio);
  const used = new Set<NamedEdge>();
  return offers.flatMap(({ a, b }): [NamedEdge, NamedEdge][] => {
    if (used.has(a) || used.has(b)) return [];
    used.add(a).add(b);
    return [[a, b]];
  });
}

function closestTo(edges: readonly NamedEdge[], lengthMm: number): NamedEdge | undefined {
  const near = edges
    .map((e) => ({ e, ratio: ratioOf(lengthOf(e), lengthMm) }))
    .filter(({ ratio }) => ratio <= LENGTH_RATIO);
  return near.toSorted((a, b) => a.ratio - b.ratio)[0]?.e;
}

function ratioOf(a: number, b: number): number {
  return Math.max(a, b) / Math.min(a, b);
}

function lengthOf({ shape, edge }: NamedEdge): number {
  return sewnLength(shape, edge, null, EXACT).valueMm;
}

/** The name as it stands on the edge: "top" and "lower" say nothing of what an edge is, except beside a yoke. */
function writtenLabel({ shape, edge }: NamedEdge): string {
  return normalLabel(shape.ring.find((candidate) => candidate.id === edge)?.label ?? '');
}

function toward(named: NamedEdge, ends: Ends): SeamSide[number] {
  return spanBetween(named, ends) ?? wholeEdge(named, 'forward');
}

/** Front cap before back cap, top sleeve before under sleeve. */
function chainOrder(caps: readonly NamedEdge[]): readonly NamedEdge[] {
  const rank = (e: NamedEdge) => (e.label === 'cap back' || e.piece.kind === 'under sleeve' ? 1 : 0);
  return caps.toSorted((a, b) => rank(a) - rank(b));
}

function hanging(ends: Ends): Ends {
  return ends === SIDE_ENDS ? HANGING_ENDS : ends;
}

function nameFor(name: string, piece: Piece): string {
  if (isBodice(piece.kind)) return name === 'side' ? 'bodice side' : name;
  if (isSkirt(piece.kind)) return `skirt ${name}`;
  if (isTrouser(piece.kind)) return name === 'inseam' ? name : `trouser ${name}`;
  return `${piece.kind} ${name}`;
}

function roleOf({ shape, edge }: NamedEdge): string {
  return shape.ring.find((candidate) => candidate.id === edge)?.role ?? '';
}

/** Cut once and not on the fold: it has no mirror image to be sewn to. */
function isSingle(piece: Piece): boolean {
  return piece.cut.length > 0 && piece.cut.every((entry) => entry.count === 1 && !entry.onFold);
}

function keyOf(piece: string, edge: string): string {
  return JSON.stringify([piece, edge]);
}

function spanOf(link: Link): SeamSide[number] {
  return link.span;
}
