import type { TemperatureLimits } from '../../shared/species/columns.ts';

/** One order as it is packed. Plain data: days are day strings, everything is already decided and sorted. */
export interface PackingSheetData {
  orderNumber: string;
  /** Absolute address of the order's page; printed as QR code and in words. */
  orderUrl: string;
  /** `YYYY-MM-DD`, or null while no day is set. */
  dispatchOn: string | null;
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
