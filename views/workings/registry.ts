import { ofBreeding } from './of-breeding.ts';
import { ofKeeping } from './of-keeping.ts';
import { ofSelling } from './of-selling.ts';
import { ofStock } from './of-stock.ts';
import type { Working } from './working.ts';

const all = { ...ofStock, ...ofBreeding, ...ofKeeping, ...ofSelling };

export type WorkingName = keyof typeof all;

/** Every kind of number that a page works out, by the name its page has under /workings. */
export const workings: Readonly<Record<WorkingName, Working>> = all;

export const isWorking = (name: string): name is WorkingName => Object.hasOwn(all, name);

export const workingHref = (name: WorkingName) => `/workings/${name}`;
