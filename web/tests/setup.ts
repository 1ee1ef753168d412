// Every browser has this; Node 18 has it under another name.
import { webcrypto } from 'node:crypto';

if (globalThis.crypto === undefined) Object.defineProperty(globalThis, 'crypto', { value: webcrypto });
