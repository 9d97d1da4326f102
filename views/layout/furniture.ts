import type { UnitSystem } from '../../shared/settings/units.ts';

/** What every page carries besides its own data. Made in one place by the server, read by the shell. */
export type Furniture = {
  businessName: string;
  who: { name: string; role: 'owner' | 'helper' } | null;
  /** Key of the section the page belongs to: see sections.ts; anything else marks none. */
  nav: string;
  csrfToken: string;
  /** A fresh idempotency key for the forms of this page. */
  formKey: string;
  notice: NoticeData | null;
  scheme: 'system' | 'light' | 'dark';
  /** Changes whenever a file in static/ does, so that browsers may keep them for long. */
  assetVersion: string;
  /** How many things wait for a person in a section, by its key: { orders: 3 }. */
  waiting?: Record<string, number>;
  /** What stands on every page: for the owner a backup that failed or a full disk, for all that nothing can be saved. */
  warnings?: readonly WarningData[];
  /** BCP 47 tag for numbers, money and days; 'en-GB' when left out. */
  locale?: string;
  /** The business's units; metric when left out. */
  units?: UnitSystem;
  /** The day in the business's time zone, for what is printed. */
  today?: string;
};

export type WarningData = { text: string; tone: Tone; word?: string; link?: { href: string; label: string } };

export type Tone = 'plain' | 'needs-you' | 'harm';

export type NoticeData = {
  text: string;
  tone: Tone;
  /** Where to look next, within this service. */
  links?: { href: string; label: string }[];
  undo?: UndoData;
};

export type UndoData = {
  action: string;
  label: string;
  fields?: Record<string, string | number>;
};

/** The two things a form needs from the furniture. */
export type FormFurniture = Pick<Furniture, 'csrfToken' | 'formKey'>;
