import { describe, expect, it } from 'vitest';
import { commit, redo, redoLabel, startHistory, undo, undoLabel } from '../../../../renderer/state/history.ts';

const saying = (...words: string[]) => words.reduce((h, word) => commit(h, word, `say ${word}`), startHistory('start'));

describe('the history', () => {
  it('goes back step by step and says what each step did', () => {
    const history = saying('one', 'two');
    expect(undoLabel(history)).toBe('say two');
    expect(undo(history).present).toBe('one');
    expect(undoLabel(undo(history))).toBe('say one');
    expect(undo(undo(history)).present).toBe('start');
  });

  it('goes forward again to the very same values', () => {
    const history = saying('one', 'two');
    const back = undo(undo(history));
    expect(redoLabel(back)).toBe('say one');
    expect(redo(redo(back)).present).toBe('two');
    expect(redo(redo(back)).past.map(({ value }) => value)).toEqual(history.past.map(({ value }) => value));
  });

  it('stays as it is where there is nothing to undo or redo', () => {
    const history = startHistory('start');
    expect(undo(history)).toBe(history);
    expect(redo(history)).toBe(history);
  });

  it('forgets what was undone when something new is done', () => {
    const history = commit(undo(saying('one', 'two')), 'three', 'say three');
    expect(history.future).toEqual([]);
    expect(undo(history).present).toBe('one');
  });

  it('takes changes with the same key that follow one another as one step', () => {
    const nudged = ['a', 'b', 'c'].reduce((h, v) => commit(h, v, 'nudge', 'corner 1'), startHistory('start'));
    expect(nudged.present).toBe('c');
    expect(undo(nudged).present).toBe('start');
  });

  it('begins a new step when the key changes or something was undone between', () => {
    const first = commit(startHistory('start'), 'a', 'nudge', 'corner 1');
    expect(undo(commit(first, 'b', 'nudge', 'corner 2')).present).toBe('a');
    const again = commit(undo(first), 'c', 'nudge', 'corner 1');
    expect(undo(again).present).toBe('start');
  });

  it('does not count the same value as a change', () => {
    const history = saying('one');
    expect(commit(history, 'one', 'say one again')).toBe(history);
  });
});
