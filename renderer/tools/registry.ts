// The tools in the order in which they stand on the rail.
import { correct } from './correct/correct.ts';
import { dart } from './dart/dart.ts';
import { grain } from './grain/grain.ts';
import { notch } from './notch/notch.ts';
import { redraw } from './redraw/redraw.ts';
import { split } from './split/split.ts';
import type { Tool } from './tool.ts';

export const TOOLS: readonly Tool[] = [correct, redraw, notch, dart, grain, split];

export function toolOf(id: Tool['id']): Tool {
  return TOOLS.find((tool) => tool.id === id) ?? correct;
}
