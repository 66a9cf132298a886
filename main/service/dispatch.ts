// The one place every request passes, whichever way it came: known name, arguments parsed by the contract, bugs turned into
// a sentence. Handlers only ever see well-typed values.
import { schemaSentence } from '../../shared/base/schemaSentence.ts';
import { type CallName, type CallReply, calls, type Handlers } from '../../shared/contract/contract.ts';

export type Dispatch = (name: string, args: unknown) => Promise<CallReply<CallName>>;

export function makeDispatch(handlers: Handlers, reportBug: (error: unknown) => Promise<string>): Dispatch {
  return async (name, args) => {
    if (!isCallName(name)) return refuse('unknown-request', `The window asked for "${name}", which does not exist.`);
    const parsed = calls[name].args.safeParse(args);
    if (!parsed.success) {
      const sentence = schemaSentence(parsed.error.issues[0]!, args);
      return refuse('bad-arguments', `The window sent something wrong to ${name}: ${sentence}.`);
    }
    try {
      // Name and arguments belong together: both come from the same entry, which the compiler cannot follow here.
      const handler = handlers[name] as (args: unknown) => Promise<CallReply<CallName>>;
      return await handler(parsed.data);
    } catch (error) {
      return refuse('bug', await reportBug(error));
    }
  };
}

function isCallName(name: string): name is CallName {
  return Object.hasOwn(calls, name);
}

function refuse(code: string, sentence: string): CallReply<CallName> {
  return { ok: false, error: { code, sentence } };
}
