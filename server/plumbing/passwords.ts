import { hash, verify } from '@node-rs/argon2';
import { Refusal } from './errors.ts';

// Above the floor that OWASP's password storage sheet gives for argon2id (19 MiB, t=2): 64 MiB, t=3.
const cost = { memoryCost: 65_536, timeCost: 3, parallelism: 1 };

const atOnce = 2;
const mayWait = 16;
let running = 0;
const waiting: (() => void)[] = [];

/** A hash takes a core for a tenth of a second and 64 MiB: a few at a time, and a short queue. */
async function inTurn<T>(work: () => Promise<T>): Promise<T> {
  if (running >= atOnce) {
    if (waiting.length >= mayWait) {
      throw new Refusal(429, 'Too many sign-ins at once', 'Please wait a few seconds and try again.');
    }
    await new Promise<void>((go) => waiting.push(go));
  }
  running += 1;
  try {
    return await work();
  } finally {
    running -= 1;
    waiting.shift()?.();
  }
}

export const hashPassword = (password: string) => inTurn(() => hash(password.normalize('NFKC'), cost));

export const passwordMatches = (stored: string, password: string) =>
  inTurn(() => verify(stored, password.normalize('NFKC')));

/** Compared when nobody has that sign-in name, so that both cases take as long. Hash of a random string. */
let nobody: Promise<string> | null = null;
export async function compareWithNobody(password: string): Promise<false> {
  nobody ??= hashPassword(crypto.randomUUID());
  await passwordMatches(await nobody, password);
  return false;
}
