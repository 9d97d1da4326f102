import type { Lineage } from './form.ts';
import { placesOf } from './founding-order.ts';
import type { LineageFault } from './lineage-faults.ts';

/** Codes that a question about mixing names and the lineage does not know, and pairs that are no pairs. */
export function mixingFaults(
  question: Pick<Lineage, 'cultures'> & { for: string; neverMix: readonly (readonly [string, string])[] },
): LineageFault[] {
  const places = placesOf(question.cultures);
  const unknown = (path: LineageFault['path'], code: string): LineageFault[] =>
    places.has(code) ? [] : [{ path, message: 'is no culture here' }];
  return [
    ...unknown(['for'], question.for),
    ...question.neverMix.flatMap(([one, other], i) => [
      ...unknown(['neverMix', i, 0], one),
      ...unknown(['neverMix', i, 1], other),
      ...(one === other ? [{ path: ['neverMix', i, 1], message: 'is the same culture twice' }] : []),
    ]),
  ];
}
