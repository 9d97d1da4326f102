import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import type { PopulationInput } from '../../../shared/counts/population/form.ts';
import { type ReferenceAnswer, reference } from './reference.ts';

const PARTICLES = 200_000;
const SEED = 7;
const file = new URL('./reference-answers.json', import.meta.url);

/** What the answers come from: the questions and the simulation's source. */
function markOf(scenarios: Record<string, PopulationInput>): string {
  const hash = createHash('sha256').update(JSON.stringify([scenarios, PARTICLES, SEED]));
  for (const source of ['./reference.ts', '../../support/random.ts'])
    hash.update(readFileSync(new URL(source, import.meta.url)));
  return hash.digest('hex');
}

/**
 * The simulation takes a second a question and always gives the same answer, so its answers are kept. Once a question or
 * its own source has changed they are refused: `UPDATE_GOLDEN=1` simulates and keeps them anew.
 */
export function keptReference(scenarios: Record<string, PopulationInput>): (name: string) => ReferenceAnswer {
  const mark = markOf(scenarios);
  if (process.env.UPDATE_GOLDEN === '1') {
    const answers = Object.entries(scenarios).map(([name, input]) => [
      name,
      reference(input, PARTICLES, SEED),
    ]);
    const rounded = (_: string, value: unknown) =>
      typeof value === 'number' ? Number(value.toPrecision(9)) : value;
    writeFileSync(file, `${JSON.stringify({ mark, answers: Object.fromEntries(answers) }, rounded, 2)}\n`);
  }
  const kept = existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : { mark: null };
  if (kept.mark !== mark) throw new Error('The kept answers are of another simulation: UPDATE_GOLDEN=1');
  return (name) => kept.answers[name];
}
