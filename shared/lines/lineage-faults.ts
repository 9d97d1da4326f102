import type { Lineage, LineageCulture } from './form.ts';
import { foundingOrder, placesOf } from './founding-order.ts';

export interface LineageFault {
  path: (string | number)[];
  message: string;
}

/**
 * What keeps cultures from being a lineage: codes used twice or unknown, no origin or two, a child founded
 * before its parent, a ring of descent, and dates before a founding or after the day asked about. In the
 * order of the cultures, each with its path.
 */
export function lineageFaults({ cultures, asOf }: Lineage): LineageFault[] {
  const places = placesOf(cultures);
  const find = (code: string): LineageCulture | undefined => cultures[places.get(code) ?? -1];
  const descended = new Set(foundingOrder(cultures));
  return cultures.flatMap((culture, i) => {
    const faults = [
      ...originFaults(culture, find),
      ...sizeFaults(culture, asOf),
      ...additionFaults(culture, asOf, find),
    ];
    if (places.get(culture.code) !== i) faults.unshift({ path: ['code'], message: 'is used twice' });
    if (culture.foundedOn > asOf) faults.unshift({ path: ['foundedOn'], message: `is after asOf, ${asOf}` });
    if (!descended.has(i)) {
      faults.push({
        path: ['parents'],
        message: 'lead back in a ring, so that a culture descends from itself',
      });
    }
    return faults.map(({ path, message }) => ({ path: ['cultures', i, ...path], message }));
  });
}

type Find = (code: string) => LineageCulture | undefined;

function originFaults({ foundedOn, parents, wild }: LineageCulture, find: Find): LineageFault[] {
  if (parents.length > 0 && wild !== undefined) {
    return [{ path: ['wild'], message: 'is given beside parents; a culture has one origin' }];
  }
  if (parents.length === 0 && wild === undefined) {
    return [{ path: ['parents'], message: 'must name a culture, or wild be given in its place' }];
  }
  return parents.flatMap(({ code }, j) => {
    const parent = find(code);
    if (parent === undefined) return [{ path: ['parents', j, 'code'], message: 'is no culture here' }];
    if (parent.foundedOn <= foundedOn) return [];
    const message = `was founded on ${parent.foundedOn}, after its child`;
    return [{ path: ['parents', j, 'code'], message }];
  });
}

function sizeFaults({ foundedOn, sizes }: LineageCulture, asOf: string): LineageFault[] {
  return sizes.flatMap(({ date }, j) => {
    const message = outside(date, foundedOn, asOf);
    return message === null ? [] : [{ path: ['sizes', j, 'date'], message }];
  });
}

function additionFaults(culture: LineageCulture, asOf: string, find: Find): LineageFault[] {
  return culture.additions.flatMap(({ date, code }, j) => {
    const path = ['additions', j];
    const faults: LineageFault[] = [];
    const source = find(code);
    const message = outside(date, culture.foundedOn, asOf);
    if (message !== null) faults.push({ path: [...path, 'date'], message });
    if (code === culture.code) faults.push({ path: [...path, 'code'], message: 'is the culture itself' });
    else if (source === undefined) faults.push({ path: [...path, 'code'], message: 'is no culture here' });
    else if (date < source.foundedOn) {
      const late = `was founded on ${source.foundedOn}, after the addition`;
      faults.push({ path: [...path, 'code'], message: late });
    }
    return faults;
  });
}

function outside(date: string, foundedOn: string, asOf: string): string | null {
  if (date < foundedOn) return `is before the founding, ${foundedOn}`;
  return date > asOf ? `is after asOf, ${asOf}` : null;
}
