// The commands and their help. Each command's work is loaded when it is called, so that --help answers at once.
import { Command, InvalidArgumentError, Option } from 'commander';
import { TAPE_SIGMA_MM, type Taped } from '../../shared/usecases/captured.ts';
import { cardName, cardNumber } from '../../shared/vision/cards/cardLayout.ts';
import type { ExitCode } from './exitCodes.ts';
import type { CliSurroundings } from './surroundings.ts';
import { productVersion } from './version.ts';

export function buildProgram(around: CliSurroundings, setExit: (code: ExitCode) => void): Command {
  const program = new Command('notchwise')
    .description(
      'Photograph traced pattern pieces beside printed reference cards; find out before cutting what will not sew.',
    )
    .version(productVersion())
    .exitOverride()
    .configureOutput({
      writeOut: (text) => around.out(text.trimEnd()),
      writeErr: (text) => around.err(text.trimEnd()),
      outputError: (text, write) => write(oneSentence(text)),
    })
    .addHelpText(
      'after',
      '\nExit codes: 0 done; 1 check found something to stop for or to mend; 2 could not be done; 130 ended by Ctrl-C.',
    );
  const json = () => new Option('--json', 'print JSON for other programs instead of sentences');

  program
    .command('card')
    .description('Write the page of reference cards to print, or every card as its own drawing.')
    .addOption(new Option('--page <size>', 'paper').choices(['a4', 'letter']).default('a4'))
    .addOption(new Option('--print <number>', 'which page of four cards').default(1).argParser(wholeNumber))
    .option('--each', 'one drawing for each card, with cards.json, into the folder --out')
    .addOption(new Option('--format <format>', 'with --each').choices(['svg']).default('svg'))
    .option('--out <path>', 'FILE.pdf or FILE.svg; with --each a folder')
    .addOption(json())
    .addHelpText(
      'after',
      '\nPrint at 100 %, measure the two rulers on the page, and give measured ÷ nominal to trace --print-scale.',
    )
    .action(async (options) => setExit(await (await import('./commands/card.ts')).card(options, around)));

  program
    .command('trace')
    .description('Read traced pieces from photos with reference cards in them.')
    .argument('<photo...>', 'photos (JPEG, PNG, WebP, TIFF, HEIC), or a folder of them')
    .addOption(
      new Option(
        '--print-scale <x,y>',
        'measured ÷ nominal length of the page’s two rulers, e.g. 1.0012,0.9995',
      ).argParser(printScale),
    )
    .addOption(
      new Option(
        '--taped <cards=mm>',
        'a distance measured with a tape, e.g. N00-N02=612.5 (see below); may be given several times',
      ).argParser(tapedDistances),
    )
    .option('--separate', 'each photo shows a table of its own: join none, even where they show the same cards')
    .option('--phone-profile <file>', 'use this file instead of what earlier photos taught about the phone')
    .option('--no-phone-profile', 'neither use nor keep what photos teach about the phone')
    .option('--learn-profile <file>', 'add what these photos teach about the phone to a file')
    .addOption(
      new Option('--line <edge>', 'which edge of a drawn line is meant')
        .choices(['centre', 'inner', 'outer'])
        .default('centre'),
    )
    .addOption(
      new Option('--outline <kind>', 'paper edges or drawn lines').choices(['auto', 'paper', 'drawn']).default('auto'),
    )
    .option('--plan <set>', 'a set that names the pieces and how they join')
    .option('--size <size>', 'the size of the pieces; default: the plan’s base size')
    .option('--out <file>', 'write the set here (FILE.notchwise)')
    .addOption(json())
    .addHelpText(
      'after',
      `
Photos that show the same cards in the same places are joined: a long piece may run out of each of them. Let neighbours
share two cards and a stretch of the piece, and move neither cards nor piece between the photos.
--taped: turn each card (in your mind) so that its number can be read; measure from the top left corner of the one's
chequer to the top left corner of the other's, in millimetres. It counts as good to 0.5 mm; N00-N02=612.5±1 says otherwise. Two points picked in a photo, such as the
ends of a ruler that lies in it, are given in pixels of the upright photo: --taped front.jpg:310,2840-3620,2790=500.`,
    )
    .action(async (photos: string[], options) =>
      setExit(await (await import('./commands/trace.ts')).trace(photos, options, around)),
    );

  program
    .command('phone')
    .description('Show or delete what photos have taught about the lenses of your phones.')
    .option('--list', 'show what is known (the default)')
    .option('--delete <key>', 'forget one phone and setting')
    .addOption(json())
    .action(async (options) => setExit(await (await import('./commands/phone.ts')).phone(options, around)));

  program
    .command('check')
    .description('Check a set: what will not sew together, by how much, and what to do.')
    .argument('<set>', 'a set file, a set.json or an unpacked set folder')
    .option('--all', 'also what is clear or does not apply')
    .addOption(json())
    .action(async (set: string, options) =>
      setExit(await (await import('./commands/check.ts')).check(set, options, around)),
    );

  program
    .command('alter')
    .description('Alter or mend a set by amount; see what must follow, and carry it through.')
    .argument('<set>', 'a set file, a set.json or an unpacked set folder')
    .argument('[alteration]', 'what to do; --list names everything')
    .option('--list', 'every alteration and remedy with its amounts')
    .option('--by <amount>', 'the first amount: millimetres, or 1.2cm, 1/2in')
    .option('--amount <name=value...>', 'further amounts and names, as --list shows them')
    .option('--piece <id...>', 'only these pieces')
    .option('--size <name...>', 'only these sizes')
    .option('--carry', 'also redraw what must follow: cap to armhole, band to neck, skirt to waist')
    .option('--like <set>', 'repeat the changes that this other set has in its history, instead of naming one')
    .option(
      '--out <file>',
      'write the altered set here (FILE.notchwise); the given set stays as it is, unless this names it',
    )
    .addOption(json())
    .addHelpText(
      'after',
      '\nExample: alter dress.notchwise armhole-depth --by 12.7 --carry --out altered.notchwise\nA negative amount is written --by=-5.',
    )
    .action(async (set: string, what: string | undefined, options) =>
      setExit(await (await import('./commands/alter.ts')).alterCommand(set, what, options, around)),
    );

  program
    .command('mend')
    .description(
      'List the remedies that mend a set by themselves, each tried before it is offered; apply one and write it.',
    )
    .argument('<set>', 'a set file, a set.json or an unpacked set folder')
    .addOption(new Option('--apply <number>', 'apply the remedy with this number').argParser(wholeNumber))
    .addOption(new Option('--rule <id>', 'apply the first remedy of every finding of this rule').conflicts('apply'))
    .option('--out <file>', 'write the mended set here (FILE.notchwise); without it the given set file is written')
    .addOption(json())
    .action(async (set: string, options) =>
      setExit(await (await import('./commands/mend.ts')).mend(set, options, around)),
    );

  program
    .command('fit')
    .description(
      'Measure the finished garment against a body: ease level by level, what goes on, which size to start from.',
    )
    .argument('<set>', 'a set file, a set.json or an unpacked set folder')
    .option('--body <name>', 'a body of the set, a file with one (CSV, JSON), or TABLE:SIZE of a published table')
    .option('--size <name>', 'the size to judge; default: the one that is sewn for this body')
    .option('--set <measures>', 'type measures in, e.g. bust=920,waist=76cm; none takes one away')
    .option('--wanted <class>', 'how closely it is to fit: close, fitted, semi-fitted, loose, "very loose"; or none')
    .option('--table <table>', 'take the bodies of the sizes from a file (CSV, JSON) or a published table (see below)')
    .option('--remove <name>', 'take a body out of the set')
    .option('--fabric <width>', 'how wide the cloth is between the selvages; or none')
    .option('--out <file>', 'write the changed set here (FILE.notchwise); without it the given set file is written')
    .addOption(json())
    .addHelpText(
      'after',
      `
Measures: height, head, neck, shoulders, bust, waist, hip, hip depth, biceps, hand, thigh, foot, across back, across front,
shoulder, back length, sleeve length, crotch depth, inseam, skirt length. Millimetres, or 92cm, or 36 1/4in.
A body named as a size is the one that size was drafted for; any other is a person who sews one of the sizes.
A table has a size in each row and a measure in each column, or the other way round; its first cell may say the unit:
  size (cm),bust,waist,hip
  M,92,76,98
Published tables, as examples: d5585-curvy, d5585-straight, us-paper-misses, children-92-122. Which column is which size:
  fit dress.notchwise --table us-paper-misses:S=10,M=12,L=14`,
    )
    .action(async (set: string, options) =>
      setExit(await (await import('./commands/fit.ts')).fit(set, options, around)),
    );

  program
    .command('report')
    .description('Write the findings, drawn on the pieces, with each seam laid out straight.')
    .argument('<set>', 'a set file, a set.json or an unpacked set folder')
    .requiredOption('--out <file>', 'FILE.html')
    .addOption(json())
    .action(async (set: string, options) =>
      setExit(await (await import('./commands/report.ts')).report(set, options, around)),
    );

  program
    .command('export')
    .description('Write the pieces at true scale for other programs or for paper.')
    .argument('<set>', 'a set file, a set.json or an unpacked set folder')
    .addOption(new Option('--to <format>', 'form').choices(['svg', 'pdf']).makeOptionMandatory())
    .addOption(
      new Option('--page <size>', 'with pdf: one large page, or pages of a home printer to join')
        .choices(['one', 'a4', 'letter'])
        .default('one'),
    )
    .requiredOption('--out <path>', 'a file; a folder when the set has several sizes')
    .addOption(json())
    .action(async (set: string, options) =>
      setExit(await (await import('./commands/exportCommand.ts')).exportCommand(set, options, around)),
    );

  program
    .command('import')
    .description('Read pieces from SVG drawings that carry a real-world size; one group for each size.')
    .argument('<file...>', 'SVG files')
    .option('--into <set>', 'add to this set (it is not changed; the result goes to --out)')
    .option('--out <file>', 'write the set here (FILE.notchwise)')
    .addOption(json())
    .action(async (files: string[], options) =>
      setExit(await (await import('./commands/importCommand.ts')).importCommand(files, options, around)),
    );

  program
    .command('window')
    .description('Open the window: on the desktop’s browser, served to this computer only.')
    .argument('[set]', 'a set to open')
    .addOption(new Option('--port <number>', 'port on 127.0.0.1; 0 = any free one').default(0).argParser(wholeNumber))
    .option('--no-browser', 'print the address and open nothing')
    .addOption(json())
    .action(async (set: string | undefined, options) =>
      setExit(await (await import('./commands/window.ts')).window(set, options, around)),
    );

  program
    .command('demo')
    .description('Do the whole job on the photos that come with the program: trace, check, report, window.')
    .option('--out <folder>', 'where the set and the report go', 'notchwise-demo')
    .option('--window', 'open the window even without a display (prints the address)')
    .option('--no-window', 'do not open the window')
    .addOption(json())
    .action(async (options) => setExit(await (await import('./commands/demo.ts')).demo(options, around)));

  for (const command of program.commands) {
    command.copyInheritedSettings(program);
    refuseTwice(command);
  }
  return program;
}

/** Of two values for one option the first would be lost without a word. */
function refuseTwice(command: Command): void {
  for (const option of command.options) {
    if (!option.required || option.variadic || option.name() === 'taped') continue;
    let isGiven = false;
    command.on(`option:${option.name()}`, () => {
      if (isGiven) command.error(`--${option.name()} was given twice; give it once`);
      isGiven = true;
    });
  }
}

/** Commander writes "error: unknown command 'x'\n(Did you mean y?)". */
function oneSentence(text: string): string {
  const plain = text
    .replace(/^error: /, '')
    .trim()
    .replace(/\s*\n\s*/g, ' ');
  return `${plain.charAt(0).toUpperCase()}${plain.slice(1).replace(/\.$/, '')}; add --help to see what is possible.`;
}

function wholeNumber(text: string): number {
  if (!/^\d+$/.test(text)) throw new InvalidArgumentError('It should be a whole number.');
  return Number(text);
}

/** Reads N00-N02=612.5 or N00-N02=612.5±1, or points of a photo, after those given before it. */
function tapedDistances(text: string, before: readonly Taped[] = []): readonly Taped[] {
  const picked = tapedPoints(text);
  if (picked !== null) return [...before, picked];
  const parts = /^([Nn]\d+)-([Nn]\d+)=(\d+(?:\.\d+)?)(?:(?:±|\+-)(\d+(?:\.\d+)?))?$/.exec(text);
  const [from, to] = [cardNumber(parts?.[1] ?? ''), cardNumber(parts?.[2] ?? '')];
  const lengthMm = Number(parts?.[3]);
  const sigmaMm = parts?.[4] === undefined ? TAPE_SIGMA_MM : Number(parts[4]);
  if (Number.isNaN(from) || Number.isNaN(to) || from === to || !(lengthMm > 0) || !(sigmaMm > 0)) {
    throw new InvalidArgumentError('It should be two cards and millimetres, such as N00-N02=612.5.');
  }
  return [...before, { from: cardName(from), to: cardName(to), lengthMm, sigmaMm }];
}

/** Reads PHOTO:x,y-x,y=mm; null when it is no such thing. */
function tapedPoints(text: string): Taped | null {
  const number = String.raw`(\d+(?:\.\d+)?)`;
  const pattern = `^(.+):${number},${number}-${number},${number}=${number}(?:(?:±|\\+-)${number})?$`;
  const parts = new RegExp(pattern).exec(text);
  if (parts === null) return null;
  const [x1, y1, x2, y2, lengthMm] = parts.slice(2, 7).map(Number);
  const sigmaMm = parts[7] === undefined ? TAPE_SIGMA_MM : Number(parts[7]);
  if (!(lengthMm! > 0) || !(sigmaMm > 0)) {
    throw new InvalidArgumentError('The distance should be more than nothing, in millimetres.');
  }
  return { photo: parts[1]!, fromPx: [x1!, y1!], toPx: [x2!, y2!], lengthMm: lengthMm!, sigmaMm };
}

/** A print that is further off than this was scaled to fit the paper, and its cards are of no use. */
const WORST_PRINT_SCALE = 0.1;

function printScale(text: string): { readonly x: number; readonly y: number } {
  const parts = text.split(',').map(Number);
  const [x, y] = parts;
  const sound = parts.length === 2 && parts.every((part) => Math.abs(part - 1) <= WORST_PRINT_SCALE);
  if (!sound || x === undefined || y === undefined) {
    throw new InvalidArgumentError('It should be two numbers near 1, measured ÷ nominal, such as 1.0012,0.9995.');
  }
  return { x, y };
}
