// A server for tests that behaves as docs/decisions/020 says, and may fail at any point.
import { Refused, Unreachable } from '../../src/api/client';
import type { Json } from '../../src/document/json';
import { applyOperations, type Operation, type Patch, type Revision } from '../../src/document/patch';
import type { Who } from '../../src/document/rights';

export class Server {
  document: Json = { zones: { z1: { name: 'Gate' }, z2: { name: 'Store' } } };
  number = 1;
  taken = new Map<string, Revision>();
  reachable = true;
  asked = 0; // edits that were weighed
  refusal = new Refused(422, [{ code: 'c', text: 'No.' }]);
  person: Who = { name: null, role: null };
  who = () => this.person;
  losesAnswers = 0; // takes the edit, and the answer does not arrive
  refuses: (operations: Operation[]) => boolean = () => false;

  revision = (): Revision => ({ number: this.number, sha256: `sum${this.number}` });
  change(operations: Operation[]) {
    this.document = applyOperations(this.document, operations);
    this.number += 1;
  }
  site = async () => {
    if (!this.reachable) throw new Unreachable();
    return { document: this.document, revision: this.revision() };
  };
  sendEdit = async (_site: string, id: string, _why: string, patch: Patch) => {
    if (!this.reachable) throw new Unreachable();
    const before = this.taken.get(id);
    if (before) return { kind: 'taken' as const, revision: before };
    if (patch.base_revision.sha256 !== this.revision().sha256) return { kind: 'behind' as const, problems: [] };
    this.asked += 1;
    if (this.refuses(patch.operations)) throw this.refusal;
    this.change(patch.operations);
    this.taken.set(id, this.revision());
    if (this.losesAnswers-- > 0) throw new Unreachable();
    return { kind: 'taken' as const, revision: this.revision() };
  };
}

export const name = (zone: string, value: string): Operation[] => [{ op: 'add', path: `/zones/${zone}/name`, value }];
