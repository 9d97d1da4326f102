import type { ParcelWeight } from '../../shared/documents/parcel-weight.ts';
import type { TemperatureLimits } from '../../shared/species/columns.ts';
import type { PackingParcel } from './packing-parcel-data.ts';

/** One order as it is packed. Plain data: days are day strings, everything is already decided and sorted. */
export interface PackingSheetData {
  orderNumber: string;
  /** Absolute address of the order's page; printed as QR code and in words. */
  orderUrl: string;
  /** `YYYY-MM-DD`, or null while no day is set. */
  dispatchOn: string | null;
  /** By when the parcel must leave on that day, `HH:MM`; null where nobody set it. */
  dispatchBy: string | null;
  customerName: string;
  /** Two letters of where the box goes; decides the forms of Chinese characters. */
  country?: string;
  addressLines: string[];
  /** What the customer or the owner wants the packer to know; empty if nothing. */
  note: string;
  /** In shelf order. */
  picks: PackingPick[];
  /** Each species of the order once, in the order of the picks. */
  species: PackingSpecies[];
  overrides: PackingOverride[];
  /** The box, the pack and the day that were chosen; null until they are. */
  parcel: PackingParcel | null;
  /** The cups of each species, in the order of the picks. */
  cups: PackingCups[];
  /** Rules of movement that go with the parcel. */
  rules: PackingRule[];
  weight: ParcelWeight;
  /** Where a border is crossed. */
  customs: PackingCustoms | null;
}

export interface PackingCups {
  scientificName: string;
  commonName: string;
  count: number;
  /** Such as `Round cup`; empty where nobody said which. */
  cupName: string;
  animals: number;
  ventilation: CupNote;
  padding: CupNote;
}

/** What to mind at a cup; `isUsual` where the words are common practice and not the owner's. */
export interface CupNote {
  words: string;
  isUsual: boolean;
}

export interface PackingRule {
  /** `block` stands against the parcel: it does not leave. */
  kind: 'block' | 'permit' | 'warning';
  name: string;
  /** The rule in the owner's words, and what it means here; may be empty. */
  words: string;
  /** The scientific names of what it is about; empty where that is all. */
  species: string[];
  source: string;
  /** Of a permit. */
  number: string;
  /** `YYYY-MM-DD`, or null where it has no end or is no permit. */
  expiresOn: string | null;
}

/** What a customs form asks for; the owner checks it. */
export interface PackingCustoms {
  /** Countries in words. */
  from: string;
  to: string;
  contents: { scientificName: string; commonName: string; animals: number; value: string }[];
  /** Of all contents, postage apart. */
  value: string;
  /** Heading of the Harmonized System; empty where the owner set none. */
  heading: string;
}

/** What is taken from one culture. */
export interface PackingPick {
  cultureCode: string;
  /** Where it stands, in words, such as `Rack B, shelf 3, 4`. */
  place: string;
  /** The line it belongs to; empty if none is kept. */
  line: string;
  scientificName: string;
  commonName: string;
  groups: number;
  perGroup: { adults: number; juveniles: number; extras: number };
  cups: number;
  /** What is written on each cup. */
  cupLabel: string;
  note: string;
}

export interface PackingSpecies {
  scientificName: string;
  commonName: string;
  limits: TemperatureLimits;
  cautions: string[];
}

/** A refusal of the tool that the owner set aside. */
export interface PackingOverride {
  /** What was refused, such as `PSC-014: takes 4 animals from the reserve`. */
  what: string;
  reason: string;
  byName: string;
  /** `YYYY-MM-DD` */
  on: string;
}
