// card: the page of reference cards, or every card by itself.
import { join } from 'node:path';
import { cardPage, eachCard } from '../../../shared/usecases/printCards.ts';
import { EXIT, type ExitCode, end, need } from '../exitCodes.ts';
import { pathOf } from '../paths.ts';
import type { CliSurroundings } from '../surroundings.ts';

interface CardOptions {
  readonly page: 'a4' | 'letter';
  readonly print: number;
  readonly each?: boolean;
  readonly out?: string;
  readonly json?: boolean;
}

export async function card(options: CardOptions, around: CliSurroundings): Promise<ExitCode> {
  return options.each ? everyCard(options, around) : page(options, around);
}

async function page({ page: size, print, out, json }: CardOptions, around: CliSurroundings): Promise<ExitCode> {
  const ending = out === undefined ? 'pdf' : out.slice(out.lastIndexOf('.') + 1).toLowerCase();
  if (ending !== 'pdf' && ending !== 'svg') end('unknown-format', `${out} should end in .pdf or .svg.`);
  const file = need(await cardPage(size, ending, print));
  const path = pathOf(around, out ?? file.name);
  need(await around.disk.write(path, file.content));
  around.out(
    json ? JSON.stringify({ file: path, page: size, print }) : `The page of cards is in ${path}. ${HOW_TO_PRINT}`,
  );
  return EXIT.done;
}

async function everyCard({ out, json }: CardOptions, around: CliSurroundings): Promise<ExitCode> {
  if (out === undefined) end('no-folder', 'Say with --out which folder the cards should go into.');
  const folder = pathOf(around, out);
  need(await around.disk.makeFolder(folder));
  const files = eachCard();
  for (const file of files) need(await around.disk.write(join(folder, file.name), file.content));
  around.out(
    json
      ? JSON.stringify({ folder, files: files.map(({ name }) => name) })
      : `${files.length - 1} cards are in ${folder}.`,
  );
  return EXIT.done;
}

const HOW_TO_PRINT = 'Print it at 100 % (no "fit to page") and measure the two rulers on it.';
