// A process of the bench: does one job after another as they are sent to it, until its line is closed.
import type { BenchJobs, BenchResults, JobKind } from './benchJob.ts';
import { doJob } from './benchJob.ts';

export interface JobOrder<Kind extends JobKind = JobKind> {
  readonly kind: Kind;
  readonly job: BenchJobs[Kind];
}

export type JobReply =
  | { readonly ok: true; readonly result: BenchResults[JobKind] }
  | { readonly ok: false; readonly why: string };

process.on('message', (order: JobOrder) => {
  doJob(order.kind, order.job).then(
    (result) => answer({ ok: true, result }),
    (error: unknown) =>
      answer({ ok: false, why: error instanceof Error ? (error.stack ?? error.message) : String(error) }),
  );
});

function answer(reply: JobReply): void {
  process.send!(reply);
}
