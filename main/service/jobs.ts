// Long work: one capture a job, with progress, cancel and a result that can be asked for more than once.
import type { Failure, Result } from '../../shared/base/result.ts';
import { fail, ok } from '../../shared/base/result.ts';
import type { CallValue } from '../../shared/contract/contract.ts';
import { CANCELLED } from '../imaging/workerPool.ts';
import type { EventListener } from './parts.ts';

type JobState = CallValue<'job.state'>;
type JobResult = Extract<JobState, { state: 'done' }>['result'];

type PhotoInJob = CallValue<'job.photos'>['photos'][number];

export interface Progress {
  readonly report: (progress: number, sentence: string) => void;
  readonly signal: AbortSignal;
  readonly onPhoto: (photo: string, progress: Omit<PhotoInJob, 'photo'>) => void;
  readonly signalOf: (photo: string) => AbortSignal;
}

export interface Jobs {
  readonly start: (photos: readonly string[], work: (progress: Progress) => Promise<Result<JobResult>>) => string;
  readonly state: (job: string) => Result<JobState>;
  readonly photos: (job: string) => Result<CallValue<'job.photos'>>;
  /** The whole job, or one photo of it. */
  readonly cancel: (job: string, photo: string | null) => Result<Record<string, never>>;
  readonly close: () => void;
}

interface Job {
  state: JobState;
  readonly abort: AbortController;
  readonly photos: Map<string, PhotoInJob>;
  readonly photoAborts: ReadonlyMap<string, AbortController>;
}

export function makeJobs(
  newHandle: () => string,
  tell: EventListener,
  reportBug: (error: unknown) => Promise<string>,
): Jobs {
  const jobs = new Map<string, Job>();
  const get = (handle: string): Result<Job> => {
    const job = jobs.get(handle);
    return job === undefined ? fail('no-job', 'This work is not known any more; start it again.') : ok(job);
  };

  return {
    start: (photos, work) => {
      const handle = newHandle();
      const abort = new AbortController();
      const photoAborts = new Map(photos.map((photo) => [photo, new AbortController()]));
      const waiting = { state: 'waiting' as const, progress: 0, sentence: 'Waiting' };
      const job: Job = {
        state: { state: 'running', progress: 0, sentence: 'Starting' },
        abort,
        photos: new Map(photos.map((photo) => [photo, { photo, ...waiting }])),
        photoAborts,
      };
      jobs.set(handle, job);
      const report = (progress: number, sentence: string) => {
        if (job.state.state !== 'running') return;
        job.state = { state: 'running', progress, sentence };
        tell('job.progress', { job: handle, progress, sentence });
      };
      const onPhoto: Progress['onPhoto'] = (photo, progress) => {
        job.photos.set(photo, { photo, ...progress });
        tell('job.photo', { job: handle, photo, ...progress });
      };
      const signalOf = (photo: string): AbortSignal => photoAborts.get(photo)?.signal ?? abort.signal;
      const end = (state: Exclude<JobState, { state: 'running' }>) => {
        job.state = state;
        tell('job.ended', { job: handle, state: state.state });
      };
      const failed = (error: Failure) =>
        end(error.code === CANCELLED ? { state: 'cancelled' } : { state: 'failed', error });
      work({ report, signal: abort.signal, onPhoto, signalOf }).then(
        (result) => (result.ok ? end({ state: 'done', result: result.value }) : failed(result.error)),
        async (error: unknown) => failed({ code: 'bug', sentence: await reportBug(error) }),
      );
      return handle;
    },
    state: (handle) => {
      const job = get(handle);
      return job.ok ? ok(job.value.state) : job;
    },
    photos: (handle) => {
      const job = get(handle);
      return job.ok ? ok({ photos: [...job.value.photos.values()] }) : job;
    },
    cancel: (handle, photo) => {
      const job = get(handle);
      if (!job.ok) return job;
      const abort = photo === null ? job.value.abort : job.value.photoAborts.get(photo);
      abort?.abort();
      return ok({});
    },
    close: () => {
      for (const job of jobs.values()) job.abort.abort();
    },
  };
}
