// What every stage of the capture may use besides its inputs. No stage reads a file, the clock or a random source.
import type { OpenCv } from './opencv/openCv.ts';

export interface StageContext {
  /** The wrapped wasm library; loaded by main, handed in. */
  readonly cv: OpenCv;
  /** Progress 0-1 of the whole capture and one sentence about what is being done. */
  readonly report: (progress: number, sentence: string) => void;
}
