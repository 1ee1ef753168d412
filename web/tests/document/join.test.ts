import { describe, expect, test } from 'vitest';
import { decided, join, type Edit } from '../../src/document/join';
import type { Json } from '../../src/document/json';
import { applyOperations, changesOf, type Operation } from '../../src/document/patch';

const base: Json = { zones: { z1: { name: 'Gate', number: 1 }, z2: { name: 'Store', number: 2 } }, walls: { w: { path: [1, 2] } } };

let made = 0;
function edit(on: Json, operations: Operation[]): Edit {
  const order = made++;
  return { id: `e${order}`, site: 's', order, made: '', why: '', operations, state: 'waiting', changes: changesOf(on, applyOperations(on, operations), operations) };
}
const naming = (zone: string, name: string): Operation[] => [{ op: 'add', path: `/zones/${zone}/name`, value: name }];

describe('joining', () => {
  test('edits at other places go on top of what others did', () => {
    const joined = join(base, applyOperations(base, naming('z1', 'Front gate')), [edit(base, naming('z2', 'Cold store'))]);
    expect(joined.document).toEqual({ ...(base as object), zones: { z1: { name: 'Front gate', number: 1 }, z2: { name: 'Cold store', number: 2 } } });
    expect(joined.edits.map((one) => one.state)).toEqual(['waiting']);
    expect(joined.changed).toEqual(['/zones/z1/name']);
  });

  test('two values for one place: the edit is held with what both say, and theirs stands meanwhile', () => {
    const joined = join(base, applyOperations(base, naming('z1', 'Theirs')), [edit(base, naming('z1', 'Mine'))]);
    expect(joined.document).toEqual(applyOperations(base, naming('z1', 'Theirs')));
    expect(joined.edits[0]).toMatchObject({ state: 'held', disputed: ['/zones/z1/name'], changes: [{ place: '/zones/z1/name', before: 'Gate', after: 'Mine' }] });
  });

  test('the same value from both is no dispute, and nothing is left to send', () => {
    const joined = join(base, applyOperations(base, naming('z1', 'Same')), [edit(base, naming('z1', 'Same'))]);
    expect(joined.edits).toEqual([]);
  });

  test('a thing that others took away, and one that I took away while they changed it, are told as whole things', () => {
    const without = applyOperations(base, [{ op: 'remove', path: '/zones/z1' }]);
    const [mine] = join(base, without, [edit(base, naming('z1', 'Mine'))]).edits;
    expect(mine).toMatchObject({ state: 'held', disputed: ['/zones/z1'], changes: [{ place: '/zones/z1', after: { name: 'Mine', number: 1 } }] });
    const [gone] = join(base, applyOperations(base, naming('z1', 'Theirs')), [edit(base, [{ op: 'remove', path: '/zones/z1' }])]).edits;
    expect(gone).toMatchObject({ state: 'held', disputed: ['/zones/z1'] });
    expect(gone!.changes[0]!.after).toBeUndefined();
  });

  test('two edits of one list are a dispute, whichever entries they touch', () => {
    const theirs = applyOperations(base, [{ op: 'replace', path: '/walls/w/path/0', value: 9 }]);
    const joined = join(base, theirs, [edit(base, [{ op: 'replace', path: '/walls/w/path/1', value: 8 }])]);
    expect(joined.edits[0]!.disputed).toEqual(['/walls/w/path']);
  });

  test('what was built on a held edit is held with it; what was not goes on', () => {
    const first = edit(base, naming('z1', 'Mine'));
    const mine = applyOperations(base, first.operations);
    const again = edit(mine, naming('z1', 'Mine, better'));
    const other = edit(mine, naming('z2', 'Cold store'));
    const joined = join(base, applyOperations(base, naming('z1', 'Theirs')), [first, again, other]);
    expect(joined.edits.map((one) => one.state)).toEqual(['held', 'held', 'waiting']);
    expect(joined.document).toMatchObject({ zones: { z1: { name: 'Theirs' }, z2: { name: 'Cold store' } } });
  });

  test('what cannot be applied any more is held, not dropped', () => {
    const renamed = edit(base, [{ op: 'test', path: '/zones/z1/name', value: 'Gate' }, ...naming('z2', 'Cold store')]);
    const joined = join(base, applyOperations(base, naming('z1', 'Theirs')), [renamed]);
    expect(joined.edits.map((one) => one.state)).toEqual(['held']);
  });

  test('a person chooses, place by place', () => {
    const theirs = applyOperations(base, [...naming('z1', 'Theirs'), { op: 'add', path: '/zones/z1/number', value: 7 }]);
    const mine = edit(base, [...naming('z1', 'Mine'), { op: 'add', path: '/zones/z1/number', value: 8 }, ...naming('z2', 'Cold store')]);
    const [held] = join(base, theirs, [mine]).edits;
    const after = applyOperations(theirs, decided(theirs, held!, new Map([['/zones/z1/name', 'mine'], ['/zones/z1/number', 'theirs']])));
    expect(after).toMatchObject({ zones: { z1: { name: 'Mine', number: 7 }, z2: { name: 'Cold store' } } });
  });
});
