// What the window asks about fit. Nothing is kept here: every change gives back a new set.
import { fail, ok, type Result } from '../../shared/base/result.ts';
import type { Handlers } from '../../shared/contract/contract.ts';
import type { SetDocument } from '../../shared/contract/values.ts';
import type { MeasuredLine } from '../../shared/fit/finishedMeasure.ts';
import { setDocument } from '../../shared/formats/set/write.ts';
import { BODY_TABLES } from '../../shared/limits/bodyTables.ts';
import { BODY_MEASURES } from '../../shared/pattern/bodyMeasures.ts';
import { type Body, FIT_CLASSES, type PatternSet } from '../../shared/pattern/model.ts';
import { importBodies, removeBody, setBody, setFabric, usePublishedTable } from '../../shared/usecases/bodies.ts';
import { fitReport } from '../../shared/usecases/fitReport.ts';
import { receive } from './delivery.ts';
import { modelOf } from './modelOf.ts';
import type { HostParts } from './parts.ts';

type FitHandlers = Pick<
  Handlers,
  'fit.names' | 'fit.read' | 'fit.setBody' | 'fit.removeBody' | 'fit.importTable' | 'fit.useTable' | 'fit.setFabric'
>;

export function fitHandlers(parts: HostParts): FitHandlers {
  return {
    'fit.names': async () =>
      ok({
        measures: BODY_MEASURES.map((measure) => ({ ...measure })),
        classes: [...FIT_CLASSES],
        tables: BODY_TABLES.map(({ id, title, source, sizes }) => ({ id, title, source, sizes: [...sizes] })),
      }),
    'fit.read': async ({ set, body, size }) => {
      const read = modelOf(set);
      if (!read.ok) return read;
      const report = fitReport(read.value, { body, size });
      if (!report.ok) return report;
      const { value } = report;
      return ok({
        size: value.size,
        body: value.body === null ? null : plainBody(value.body),
        bodies: read.value.bodies.map(plainBody),
        lines: value.lines.map((line) => ({ ...line, notes: [...line.notes], lines: line.lines.map(plainLine) })),
        findings: value.findings.map(({ rule, verdict, gravity, sentence }) => ({ rule, verdict, gravity, sentence })),
        advice: value.advice && {
          start: value.advice.start,
          regions: [...value.advice.regions],
          differing: [...value.advice.differing],
          sentence: value.advice.sentence,
        },
      });
    },
    'fit.setBody': async ({ set, body: { name, measuresMm, size, wanted } }) =>
      changed(set, (model) =>
        setBody(model, {
          name,
          measuresMm,
          ...(size === undefined ? {} : { size }),
          ...(wanted === undefined ? {} : { wanted }),
        }),
      ),
    'fit.removeBody': async ({ set, name }) => changed(set, (model) => removeBody(model, name)),
    'fit.importTable': async ({ set, from }) => {
      const files = await receive(parts, from, 'table');
      if (!files.ok) return files;
      const [file] = files.value;
      if (file === undefined) return fail('not-chosen', 'Nothing was chosen.');
      const text = new TextDecoder().decode(file.bytes);
      return changed(set, (model) => takenOver(importBodies(model, file.name, text)));
    },
    'fit.useTable': async ({ set, table, columns }) =>
      changed(set, (model) => takenOver(usePublishedTable(model, table, columns))),
    'fit.setFabric': async ({ set, widthMm }) => changed(set, (model) => setFabric(model, widthMm)),
  };
}

function changed(
  document: SetDocument,
  change: (model: PatternSet) => Result<PatternSet>,
): Result<{ set: ReturnType<typeof setDocument>; sentence: string }> {
  const read = modelOf(document);
  if (!read.ok) return read;
  const done = change(read.value);
  if (!done.ok) return done;
  return ok({ set: setDocument(done.value), sentence: done.value.history.at(-1)?.sentence ?? '' });
}

function takenOver(imported: ReturnType<typeof importBodies>): Result<PatternSet> {
  return imported.ok ? ok(imported.value.set) : imported;
}

function plainBody({ name, measuresMm, size, wanted }: Body) {
  return {
    name,
    measuresMm: { ...measuresMm },
    ...(size === undefined ? {} : { size }),
    ...(wanted === undefined ? {} : { wanted }),
  };
}

function plainLine(line: MeasuredLine) {
  if (line.kind === 'edge') return { ...line };
  const { kind, piece, from, to } = line;
  return { kind, piece, from: [from[0], from[1]] as [number, number], to: [to[0], to[1]] as [number, number] };
}
