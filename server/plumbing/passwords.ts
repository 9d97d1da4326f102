import { availableParallelism } from 'node:os';
import { hash, verify } from '@node-rs/argon2';
import { Refusal } from './errors.ts';

// Above the floor that OWASP's password storage sheet gives for argon2id (19 MiB, t=2): 64 MiB, t=3.
const cost = { memoryCost: 65_536, timeCost: 3, parallelism: 1 };

/** Hashes at the same time: a core is left to everybody else's pages. */
export const atOnce = Math.min(2, Math.max(1, availableParallelism() - 1));
const mayWait = 16;
/** A line on which nothing is said is closed after fourteen seconds; whoever waits so long is told before. */
const longestWaitMs = 8_000;
let running = 0;
const waiting: (() => void)[] = [];

const tooMany = () =>
  new Refusal(429, 'Too many sign-ins at once', 'Please wait a few seconds and try again.');

/** Waits for a turn that the one before gives on. */
const turn = () =>
  new Promise<void>((resolve, reject) => {
    const go = () => {
      clearTimeout(timer);
      resolve();
    };
    const timer = setTimeout(() => {
      waiting.splice(waiting.indexOf(go), 1);
      reject(tooMany());
    }, longestWaitMs);
    waiting.push(go);
  });

/** A hash takes a core for a tenth of a second and 64 MiB: a few at a time, and a short queue. */
async function inTurn<T>(work: () => Promise<T>): Promise<T> {
  if (running < atOnce) running += 1;
  else if (waiting.length >= mayWait) throw tooMany();
  else await turn();
  try {
    return await work();
  } finally {
    // The turn goes straight to the next in line, so that nobody who comes meanwhile makes it three.
    const next = waiting.shift();
    if (next) next();
    else running -= 1;
  }
}

export const hashPassword = (password: string) => inTurn(() => hash(password.normalize('NFKC'), cost));

/** Longer than any password that can be set; such a text is not even hashed. */
const longest = 1_000;

export async function passwordMatches(stored: string, password: string): Promise<boolean> {
  if (password.length > longest) return false;
  // An account that waits for a new password has none that could match; it takes as long as a wrong one.
  if (!stored.startsWith('$argon2')) return compareWithNobody(password);
  return inTurn(() => verify(stored, password.normalize('NFKC')));
}

/** Whether a stored hash was made with a lower cost than today's and is to be made anew at sign-in. */
export function isCheaper(stored: string): boolean {
  const found = /^\$argon2id\$v=19\$m=(\d+),t=(\d+),p=\d+\$/.exec(stored);
  return !found || Number(found[1]) < cost.memoryCost || Number(found[2]) < cost.timeCost;
}

/** Stands for the hash of nobody's password: made with today's cost from a random text that was not kept. */
export const nobodysHash =
  '$argon2id$v=19$m=65536,t=3,p=1$Xmb+CpWIFxT6gRGED0bCuw$Fbk5VQkdm/b0qlBP6kFvPSL5KFcfPzhxy8Pn6Ai02Yo';

/** Compared when nobody has that sign-in name, so that both cases take as long. */
export async function compareWithNobody(password: string): Promise<false> {
  if (password.length <= longest) await inTurn(() => verify(nobodysHash, password.normalize('NFKC')));
  return false;
}
