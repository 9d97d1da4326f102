import { z } from 'zod';
import { moneyField, writeMoney } from '../orders/money.ts';
import { minorDigits } from '../settings/typed-money.ts';
import { typedNumber } from '../settings/typed-number.ts';
import {
  fieldUnitsOf,
  keptUnlessChanged,
  shownInField,
  shownNumber,
  storedFigure,
  storedFromField,
} from '../settings/typed-units.ts';
import type { UnitSystem } from '../settings/units.ts';
import { neededLine, optionalLine, optionalLines } from '../text.ts';
import { numberLeftField } from './box-form.ts';
import { shownMass, storedMass } from './typed-mass.ts';

const packKinds = ['heat', 'melting'] as const;
export type PackKind = (typeof packKinds)[number];
export const packKindWords: Record<PackKind, string> = { heat: 'Heat pack', melting: 'Melting pack' };

/** A pack as it is stored; the columns of the other kind are null. */
export interface PackValues {
  name: string;
  kind: PackKind;
  massG: number;
  watts: number | null;
  hours: number | null;
  warmUpHours: number | null;
  meltingC: number | null;
  latentJPerKg: number | null;
  heatCapacityJPerKgK: number | null;
  startTempC: number | null;
  smallestBoxL: number;
  mostInBox: number;
  priceMinor: number;
  numberLeft: number | null;
  source: string;
  note: string;
}

function commonFields(currency: string) {
  return {
    name: neededLine(80, 'Give it a name.'),
    mass: typedNumber({ above: 0, max: 50_000 }),
    smallestBox: typedNumber({ min: 0, max: 1_000 }).prefault('0'),
    most: typedNumber({ min: 1, max: 4, whole: true }).prefault('1'),
    price: moneyField(currency).prefault('0'),
    left: numberLeftField,
    source: optionalLine(200),
    note: optionalLines(500),
  };
}

export const heatPackForm = (currency: string) =>
  z.object({
    ...commonFields(currency),
    watts: typedNumber({ above: 0, max: 200 }),
    hours: typedNumber({ above: 0, max: 240 }),
    warmUp: typedNumber({ min: 0, max: 24 }).prefault('1'),
  });

export const meltingPackForm = (currency: string) =>
  z.object({
    ...commonFields(currency),
    melting: typedNumber({ min: -150, max: 300 }),
    latent: typedNumber({ above: 0, max: 1_000 }),
    heatCapacity: typedNumber({ above: 0, max: 10 }),
    startTemp: typedNumber({ min: -150, max: 300 }),
  });
export type HeatPackForm = z.output<ReturnType<typeof heatPackForm>>;
export type MeltingPackForm = z.output<ReturnType<typeof meltingPackForm>>;

export const packFieldWords: Record<string, string> = {
  name: 'Name',
  mass: 'Weight',
  watts: 'Power',
  hours: 'Lasts',
  warmUp: 'Warms up in',
  melting: 'Melts at',
  latent: 'Heat of melting',
  heatCapacity: 'Heat capacity',
  startTemp: 'Goes in at',
  smallestBox: 'Smallest box it may sit in',
  most: 'At most in one box',
  price: 'Price',
  left: 'Number left',
  source: 'Where the figures come from',
  note: 'Notes',
};

const kiloShown = (digits: number) => (stored: number) => shownNumber(stored / 1_000, digits);
const fromKilo = (typed: number) => typed * 1_000;

/** What the fields show for a stored pack, or for a new one. */
export function packFormValues(
  stored: PackValues | null,
  units: UnitSystem,
  currency: string,
): Record<string, string> {
  if (!stored) return { most: '1', warmUp: '1' };
  const temp = (value: number | null) =>
    value === null ? '' : shownInField(value, fieldUnitsOf(units).temp);
  const plain = (value: number | null, digits: number) => (value === null ? '' : shownNumber(value, digits));
  return {
    name: stored.name,
    mass: shownMass(stored.massG, units),
    watts: plain(stored.watts, 3),
    hours: plain(stored.hours, 2),
    warmUp: plain(stored.warmUpHours, 2),
    melting: temp(stored.meltingC),
    latent: stored.latentJPerKg === null ? '' : kiloShown(3)(stored.latentJPerKg),
    heatCapacity: stored.heatCapacityJPerKgK === null ? '' : kiloShown(4)(stored.heatCapacityJPerKgK),
    startTemp: temp(stored.startTempC),
    smallestBox: plain(stored.smallestBoxL, 2),
    most: String(stored.mostInBox),
    price: writeMoney(stored.priceMinor, minorDigits(currency)),
    left: stored.numberLeft === null ? '' : String(stored.numberLeft),
    source: stored.source,
    note: stored.note,
  };
}

const none = {
  watts: null,
  hours: null,
  warmUpHours: null,
  meltingC: null,
  latentJPerKg: null,
  heatCapacityJPerKgK: null,
  startTempC: null,
};

function common(form: HeatPackForm | MeltingPackForm, units: UnitSystem, before: PackValues | null) {
  return {
    ...none,
    name: form.name,
    massG: storedMass(form.mass, units, before?.massG ?? null),
    smallestBoxL: storedFigure(form.smallestBox, before?.smallestBoxL, 2),
    mostInBox: form.most,
    priceMinor: form.price,
    numberLeft: form.left ?? null,
    source: form.source,
    note: form.note,
  };
}

export type ReadPack = { ok: true; values: PackValues } | { ok: false; errors: Record<string, string> };

export function heatPackFromForm(form: HeatPackForm, units: UnitSystem, before: PackValues | null): ReadPack {
  if (form.warmUp > form.hours) return { ok: false, errors: { warmUp: 'Must not be longer than it lasts.' } };
  return {
    ok: true,
    values: {
      ...common(form, units, before),
      kind: 'heat',
      watts: storedFigure(form.watts, before?.watts, 3),
      hours: storedFigure(form.hours, before?.hours, 2),
      warmUpHours: storedFigure(form.warmUp, before?.warmUpHours, 2),
    },
  };
}

export function meltingPackFromForm(
  form: MeltingPackForm,
  units: UnitSystem,
  before: PackValues | null,
): ReadPack {
  const { temp } = fieldUnitsOf(units);
  const errors: Record<string, string> = {};
  const meltingC = storedFromField(form.melting, temp, before?.meltingC ?? null);
  const startTempC = storedFromField(form.startTemp, temp, before?.startTempC ?? null);
  if (!(meltingC >= -50 && meltingC <= 70))
    errors.melting = 'No pack for parcels melts there: check the unit.';
  if (!(startTempC >= -80 && startTempC <= 70))
    errors.startTemp = 'Dry ice and the like are not for live animals: check the unit.';
  if (Object.keys(errors).length > 0) return { ok: false, errors };
  return {
    ok: true,
    values: {
      ...common(form, units, before),
      kind: 'melting',
      meltingC,
      latentJPerKg: keptUnlessChanged(form.latent, before?.latentJPerKg ?? null, kiloShown(3), fromKilo),
      heatCapacityJPerKgK: keptUnlessChanged(
        form.heatCapacity,
        before?.heatCapacityJPerKgK ?? null,
        kiloShown(4),
        fromKilo,
      ),
      startTempC,
    },
  };
}
