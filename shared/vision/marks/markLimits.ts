// Every number that decides what is read as a mark, millimetres and degrees on the table. Sizes are of hand-drawn and
// commercial paper patterns: common practice where no source is named; thresholds of evidence were found by trial on
// rendered sheets.

export const MARK_LIMITS = {
  /** Ink this near to the outline and along it is the outline's own line or the paper edge's shadow. */
  onOutlineMm: 1.3,
  onOutlineDeg: 22,
  /** Marks may stick out of a drawn outline by this (ticks drawn across it). */
  outsideMm: 12,
  /** A mark line that ends this near to the outline was meant to touch it. */
  touchMm: 3,

  /** Pieces of one straight line. */
  merge: {
    leastMm: 8,
    straightMm: 0.35,
    asideMm: 0.8,
    strayRatio: 0.2,
    gapMm: 28,
    gapRatio: 1.5,
    /** Two straight fits leave at most this share of what a curve through all leaves: two lines. */
    bentRatio: 0.4,
  },

  tick: {
    leastMm: 1.8,
    mostMm: 12,
    /** A tick reaches at least this far from the outline: nearer lies what a dash or a dot beside the line leaves. */
    leastReachMm: 2.3,
    /** Drawn with the same pen as the rest, or nearly: at least this share of its contrast. */
    faintRatio: 0.45,
    /** Angle to the outline's normal. */
    slantDeg: 38,
    /** Ridges fade before the outline; the tick's direction carries on this far. */
    touchMm: 3,
    bentMm: 0.3,
    /** Two halves of a tick drawn across the outline. */
    sameMm: 1.6,
    /** The free end of a tick has no other ink this near (letters have). */
    clearMm: 1.6,
  },

  /** Two drawn strokes that make a triangle with the outline. */
  triangle: { leastSideMm: 1.8, mostSideMm: 13, leastBaseMm: 3, mostBaseMm: 12, tipsMm: 2.6, slantDeg: 62 },

  /** Neighbours of a double or triple notch: 4 to 13 mm apart (6 to 8 is usual). */
  group: { leastMm: 2.5, mostMm: 13.5 },

  dart: {
    leastLegMm: 18,
    mostLegMm: 280,
    mouthLeastMm: 3,
    mouthMostMm: 110,
    angleLeastDeg: 2,
    angleMostDeg: 70,
    /** Shorter leg over longer leg. */
    legsRatio: 0.6,
    /** Legs may stop short of where they would meet, or run past it, by this plus a share of their length. */
    endMm: 5,
    endRatio: 0.08,
    /** A longer last stretch may be missing, up to this share of the leg, where so much of the way is ink (dashes). */
    hiddenRatio: 0.5,
    hiddenInkRatio: 0.5,
    /** The last dash of a dashed leg may be lost at the edge: it is carried on this far. */
    dashedTouchMm: 12,
    /** Share of its length that a solid leg shows as ink. */
    solidRatio: 0.9,
    /** A leg meets the outline at least this steeply. */
    footDeg: 30,
    /** Near the apex the two lines run into one another; where they are closer than this they are not used to aim. */
    mergedMm: 2.2,
    /** A leg is curved when it leaves its straight fit by more than a ruled line does (root mean square)... */
    steadyMm: 0.05,
    /** ...and a parabola leaves at most this share of that. */
    bentRatio: 0.6,
    /** How sure the crossing of two legs is across them, and how sure the end of a leg is along it; farther off than so many
     * of these sigmas it does not end at the point. */
    legSigmaMm: 0.04,
    bentSigmaMm: 0.15,
    endSigmaMm: 0.6,
    dashedEndSigmaMm: 2.5,
    endReachSigmas: 4,
    /** Short strokes that run through the point, so far off it and so far from their middle at most: a cross marks it. */
    crossAsideMm: 1.5,
    crossMiddleRatio: 0.25,
    crossLeastMm: 3,
    crossMostMm: 10,
    /** Difference of curvature times length below which two legs count as straight. */
    bendless: 1e-6,
    /** Legs that part by less along the dart, millimetres a millimetre, are parallel. */
    leastSlope: 1e-6,
  },

  grainline: {
    /** Small pieces have short ones; without a clear head a short line may be anything. */
    leastMm: 18,
    plainLeastMm: 45,
    /** Longest that was seen on a full-length panel. */
    mostMm: 1200,
    straightMm: 0.6,
    /** Without any head only a long line with free ends passes. */
    headlessLeastMm: 80,
    freeEndMm: 6,
    /** A line with a neighbour of the same direction this near is one of a pair (lengthen or shorten here). */
    pairMm: 15,
    pairDeg: 2,
    /** A line that keeps one distance to the outline, smaller than this, is a seamline. */
    seamlineMm: 30,
    seamlineDriftMm: 1.5,
    /** A head this clear makes it a grainline all the same: the middle of a narrow band. */
    surelyHeadScore: 0.65,
    inkedRatio: 0.55,
  },

  head: {
    /** How far before and beyond the end of the ridge the tip may be: a filled head hides the line's last stretch. */
    beforeMm: 6,
    beyondMm: 14,
    halfWidthMm: 8,
    pitchMm: 0.4,
    lengthsMm: [4, 6, 8, 10, 12],
    /** Half width of the head over its length. */
    slopes: [0.25, 0.35, 0.47, 0.6, 0.8],
    leastScore: 0.5,
  },

  lengthen: {
    leastMm: 45,
    /** From square to the grain. */
    slantDeg: 15,
    parallelDeg: 1.5,
    /** Between the two lines: 6 to 10 mm is usual. */
    apartLeastMm: 2.5,
    apartMostMm: 20,
    /** Length that both have in common, share of the longer. */
    commonRatio: 0.8,
    /** Lines across the piece cover this share of the way from edge to edge... */
    spanRatio: 0.6,
    /** ...and, where no grain is known, all of it, and that way is the shortest through their middle, or nearly. */
    wholeSpanRatio: 0.85,
    shortestRatio: 1.1,
    /** A single line is squarer to the grain than a pair has to be, */
    singleSlantDeg: 6,
    /** and has no companion: hip, waist and hem lines come several at a time. */
    companionRatio: 0.5,
    companionDeg: 4,
    /** A line that keeps its distance to an edge is a hem or a seamline. */
    hemMm: 70,
    hemDriftMm: 2,
  },

  fold: {
    leastMm: 35,
    parallelDeg: 7,
    nearMm: 3.5,
    farMm: 60,
    /** Share of the way from the end of the bracket to the edge that is ink. */
    armInkRatio: 0.7,
    /** The same way in the middle of the bracket must be mostly paper. */
    middleInkRatio: 0.35,
    /** Side steps in which the arm is looked for, since it is not exactly square. */
    armSearchMm: 2.5,
  },

  cut: {
    /** Paper left standing as a triangle: smaller ones nobody cuts. */
    outLeastDepthMm: 2,
    outLeastWidthMm: 2,
    /** Paper that a bump is compared with: so deep inside the edge, so far beside the foot. */
    depthsMm: [1.5, 2.2, 3],
    besideMm: [-9, -7, -5, 5, 7, 9],
    /** Table beyond a bump's tip, paper beyond a dent's: so far behind it, so far to its sides. */
    beyondMm: [1.5, 2.5, 3.5],
    beyondAlongMm: [-4, -2, 0, 2, 4],
    /** A bump is paper where its colour differs from the paper's by no more, a dent is none where it differs by more. */
    paperRatio: 0.15,
    tableRatio: 0.06,
    /** Share of the looked-at places of a bump that must be paper. */
    bumpShare: 0.8,
  },

  /**
   * Print taken for marks: from so many of one kind on, the same reading is done along lines so far inside; where all of them show
   * this share of what the edge shows, each for its length, it is print. Writing crosses one of them, not all. No source.
   */
  print: { leastMarks: 8, insetsMm: [12, 20, 28], shareOfEdge: 0.35 },

  /** Spots of the paper's colour on the table: ways out from the edge that are looked at. No source. */
  spots: {
    everyMm: 4,
    /** Beyond the longest notch, to about one more repeat of a dotted or chequered cloth. */
    fromMm: 8,
    toMm: 30,
    stepMm: 0.5,
    /** A run of the paper's colour that could pass for a notch: as wide as the narrowest, twice as wide as the widest. */
    leastMm: 1.5,
    mostMm: 15,
    /** Share of the ways of a section that cross one. */
    leastShare: 0.12,
    /** A cloth is spotted nearly all round a piece; cards lie beside some of its sections only. */
    sections: 8,
    leastSections: 6,
  },

  snip: {
    /** Depths from the paper's edge between which parts of the slit are looked at; all but one must be dark. */
    partsMm: [0.3, 0.9, 1.6, 2.3, 3.1],
    /** The first part of a slit is at least this share as dark as its darkest: a printed dot has paper between it and the edge. */
    mouthRatio: 0.65,
    /** Beyond the longest slit: what is dark in all of these stretches is something else. */
    beyondMm: [6.5, 9, 11.5],
    /** A long line whose end lies this near makes the streak. */
    footMm: 2.2,
    pitchMm: 0.25,
    /** Table over paper above which a cut is lighter than the paper, its own shadow counted. */
    lighterTableRatio: 1.35,
    slantsDeg: [-24, -16, -8, 0, 8, 16, 24],
    /** Dip over the scatter of plain paper along the edge. */
    leastScore: 9,
    /** Least dip, share of the paper's level... */
    leastDipRatio: 0.045,
    /** ...raised to so many times what dots, grids and fibres reach along this edge, but not above surelyDipRatio. */
    clutterFactor: 2.2,
    surelyDipRatio: 0.085,
    /** The strongest streaks of an edge may all be notches; the next one after so many is clutter. */
    notchesAtMost: 12,
    /** Nearer to a corner of the outline the rows run into the other edge. */
    cornerMm: 2.5,
    cornerDeg: 25,
  },

  hole: {
    /** Grid on which spots are found. */
    pitchMm: 0.3,
    /** The paper's level is the median over squares of this side: most of it is paper even under a hole or a word. */
    paperMm: 12,
    /** A spot is off the paper by this share of its level, and by so many sigma of the paper's grain. */
    leastOffRatio: 0.04,
    grainFactor: 5,
    /** A hole's own darkness or lightness... */
    leastDipRatio: 0.06,
    /** ...where this share of it is less off the paper: a few specks count for nothing. */
    strongShare: 0.9,
    /** What is less off than this share of the spot's most is its blur. */
    halfRatio: 0.4,
    /** Punches of 2 to 6 mm; circles and crosses drawn up to 8 mm across. */
    leastRadiusMm: 0.8,
    mostRadiusMm: 4.6,
    /** Least over greatest reach from the middle over all directions: round spots and rings. */
    roundRatio: 0.62,
    /** Or the share of the circle around it that it fills: small dots have few cells in each direction. */
    filledRatio: 0.6,
    /** Fourfold and twofold moments of a cross: letters with three arms or longer ones have the second. */
    crossRatio: 0.45,
    crossOvalRatio: 0.3,
    /** Its strokes run through its middle: ink nearer to it than so many cells. */
    innerCells: 1.5,
    /** Words and smaller are writing; what reaches farther is a line. */
    writingReachMm: 30,
    /** Writing stands this near to its next letter, word or full stop: its own height, and at least so much. */
    letterGap: 1,
    letterGapLeastMm: 6,
    /** Another letter is of about the same size, and written with the same pen. */
    letterSize: 0.7,
    letterStrength: 0.4,
    /** So many alike are the paper's own pattern; alike = within this ratio in size and in strength. */
    patternCount: 24,
    patternRatio: 1.4,
    /** Nearer to an arrow head's tip or a dart's point it belongs to that. */
    apartMm: 4,
    outlineMm: 6,
  },
} as const;
