import { describe, expect, test } from 'vitest';
import { sameJson, type Json } from '../../src/document/json';
import { applyOperations, changesOf, difference, PatchFault, placesOf, setting, type Operation } from '../../src/document/patch';

// The examples of RFC 6902, appendix A, as far as the format has their operations.
const rfc: [string, Json, Operation[], Json | null][] = [
  ['A.1 adding an object member', { foo: 'bar' }, [{ op: 'add', path: '/baz', value: 'qux' }], { baz: 'qux', foo: 'bar' }],
  ['A.2 adding an array element', { foo: ['bar', 'baz'] }, [{ op: 'add', path: '/foo/1', value: 'qux' }], { foo: ['bar', 'qux', 'baz'] }],
  ['A.3 removing an object member', { baz: 'qux', foo: 'bar' }, [{ op: 'remove', path: '/baz' }], { foo: 'bar' }],
  ['A.4 removing an array element', { foo: ['bar', 'qux', 'baz'] }, [{ op: 'remove', path: '/foo/1' }], { foo: ['bar', 'baz'] }],
  ['A.5 replacing a value', { baz: 'qux', foo: 'bar' }, [{ op: 'replace', path: '/baz', value: 'boo' }], { baz: 'boo', foo: 'bar' }],
  ['A.6 moving a value', { foo: { bar: 'baz', waldo: 'fred' }, qux: { corge: 'grault' } }, [{ op: 'move', from: '/foo/waldo', path: '/qux/thud' }], { foo: { bar: 'baz' }, qux: { corge: 'grault', thud: 'fred' } }],
  ['A.7 moving an array element', { foo: ['all', 'grass', 'cows', 'eat'] }, [{ op: 'move', from: '/foo/1', path: '/foo/3' }], { foo: ['all', 'cows', 'eat', 'grass'] }],
  ['A.8 testing a value: success', { baz: 'qux', foo: ['a', 2, 'c'] }, [{ op: 'test', path: '/baz', value: 'qux' }, { op: 'test', path: '/foo/1', value: 2 }], { baz: 'qux', foo: ['a', 2, 'c'] }],
  ['A.9 testing a value: error', { baz: 'qux' }, [{ op: 'test', path: '/baz', value: 'bar' }], null],
  ['A.10 adding a nested member object', { foo: 'bar' }, [{ op: 'add', path: '/child', value: { grandchild: {} } }], { foo: 'bar', child: { grandchild: {} } }],
  ['A.14 escapes', { '/': 9, '~1': 10 }, [{ op: 'test', path: '/~01', value: 10 }], { '/': 9, '~1': 10 }],
  ['A.16 adding an array value', { foo: ['bar'] }, [{ op: 'add', path: '/foo/-', value: ['abc', 'def'] }], { foo: ['bar', ['abc', 'def']] }],
];

describe('a patch', () => {
  test.each(rfc)('RFC 6902 %s', (_name, before, operations, after) => {
    const was = JSON.stringify(before);
    if (after === null) expect(() => applyOperations(before, operations)).toThrow(PatchFault);
    else expect(applyOperations(before, operations)).toEqual(after);
    expect(JSON.stringify(before)).toBe(was);
  });

  test('finds every object on the way, as docs/decisions/011 says', () => {
    expect(applyOperations({}, [{ op: 'add', path: '/zones/z1/loop/eol_ohm', value: 5600 }])).toEqual({ zones: { z1: { loop: { eol_ohm: 5600 } } } });
  });

  test('is refused where nothing stands, a place is beyond a list, or a thing would move into itself', () => {
    const site: Json = { walls: { w: { path: [1, 2] } } };
    const refused = (operation: Operation) => expect(() => applyOperations(site, [operation])).toThrow(PatchFault);
    refused({ op: 'replace', path: '/zones/z1', value: {} });
    refused({ op: 'remove', path: '/walls/v' });
    refused({ op: 'add', path: '/walls/w/path/3', value: 3 });
    refused({ op: 'add', path: '/walls/w/path/01', value: 3 });
    refused({ op: 'move', from: '/walls/w', path: '/walls/w/path' });
  });

  test('touches a list as a whole', () => {
    const site: Json = { walls: { w: { name: 'W', path: [{ x_m: 1 }, { x_m: 2 }] } } };
    expect(placesOf(site, [{ op: 'replace', path: '/walls/w/path/1/x_m', value: 3 }, { op: 'add', path: '/walls/w/name', value: 'V' }])).toEqual(['/walls/w/name', '/walls/w/path']);
  });
});

/** Small random documents, the same in each run. */
function random(seed: number) {
  let state = seed;
  const next = (below: number) => ((state = (state * 1103515245 + 12345) % 2147483648) >> 8) % below;
  const value = (depth: number): Json => {
    const kind = next(depth > 2 ? 3 : 5);
    if (kind === 0) return next(4);
    if (kind === 1) return ['a', 'b', 'c/d', 'e~f'][next(4)]!;
    if (kind === 2) return next(2) === 1;
    if (kind === 3) return Array.from({ length: next(3) }, () => value(depth + 1));
    return Object.fromEntries(Array.from({ length: next(4) }, () => [['k', 'l', 'm/n', 'o~p'][next(4)]!, value(depth + 1)]));
  };
  return () => Object.fromEntries(['p', 'q', 'r'].map((key) => [key, value(0)])) as Json;
}

describe('properties, on 2000 pairs of random documents', () => {
  test('the difference of two takes one to the other, and its changes take it back', () => {
    const document = random(7);
    for (let i = 0; i < 2000; ++i) {
      const from = document();
      const to = document();
      const operations = difference(from, to);
      const after = applyOperations(from, operations);
      expect(sameJson(after, to)).toBe(true);
      const back = changesOf(from, after, operations).flatMap((change) => setting(after, change.place, change.before));
      expect(sameJson(applyOperations(after, back), from)).toBe(true);
    }
  });
});

test('an entry of which nothing is known yet is an entry: adding it is a change, and so is taking it out', () => {
  const empty = { cameras: { c1: { name: 'One' } } };
  const add = [{ op: 'add' as const, path: '/cameras/c1/streams/clip', value: {} }];
  const after = applyOperations(empty, add);
  expect(changesOf(empty, after, add)).toEqual([{ place: '/cameras/c1/streams/clip', before: undefined, after: {} }]);
  const remove = [{ op: 'remove' as const, path: '/cameras/c1/streams/clip' }];
  expect(changesOf(after, applyOperations(after, remove), remove)).toHaveLength(1);
});
