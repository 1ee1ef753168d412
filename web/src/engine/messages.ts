// What page and worker say to each other; `n` joins an answer to its question.
import type { Answer, Question } from '../api/client';
import type { Json } from '../document/json';

export type AskedOfEngine = { n: number; base: string } & ({ kind: 'load' } | { kind: 'ask'; document: Json; question: Question });
export type SaidByEngine = { n: number } & (
  | { kind: 'ready' }
  | { kind: 'absent' | 'stopped'; fault: string }
  | { kind: 'refused' | 'given_up' } // given up: nobody waited any more, said by the page itself
  | { kind: 'answer'; answer: Answer }
);
