import { MOST_ANIMALS } from '../counts/form.ts';
import type { CodeMatch } from './codes.ts';
import type { Details } from './details.ts';
import type { FaultKind } from './faults.ts';
import type { Findings } from './findings.ts';
import type { Meaning } from './meanings.ts';
import { plainNumber } from './rough-numbers.ts';

export interface ExactRow {
  meaning: Exclude<Meaning, 'leave out'>;
  number: string;
  note: string;
  details: Details;
}

export interface ExactContext {
  numberColumn: string | null;
  detailsColumn: string | null;
  findCulture: (text: string) => CodeMatch;
}

/** Takes the details one by one, and says what is wrong with each. */
export class DetailReader {
  private readonly row: ExactRow;
  private readonly context: ExactContext;
  private readonly findings: Findings;
  private readonly used = new Set<string>();

  constructor(row: ExactRow, context: ExactContext, findings: Findings) {
    this.row = row;
    this.context = context;
    this.findings = findings;
  }

  fail(reason: string): null {
    return this.findings.fault('details-not-understood', reason, this.context.detailsColumn);
  }

  text(name: string, longest: number): string | null {
    this.used.add(name);
    const value = this.row.details.get(name) ?? null;
    return value !== null && value.length > longest ? this.fail(`“${name}” is too long.`) : value;
  }

  oneOf<T extends string>(name: string, values: readonly T[]): T | null {
    const text = this.text(name, 200);
    const found = values.find((value) => value === text?.toLowerCase());
    if (text === null || found) return found ?? null;
    return this.fail(`“${name}” must be ${values.join(', ')}.`);
  }

  yesNo(name: string): boolean | null {
    const word = this.oneOf(name, ['yes', 'no']);
    return word === null ? null : word === 'yes';
  }

  number(name: string, least: number, most: number): number | null {
    const text = this.text(name, 40);
    if (text === null) return null;
    const value = /^\d+(?:\.\d+)?(?:e-?\d+)?$/i.test(text) ? Number(text) : Number.NaN;
    if (value >= least && value <= most) return value;
    return this.fail(`“${name}” must be a number from ${least} to ${most}.`);
  }

  whole(name: string): number | null {
    const value = this.number(name, 0, MOST_ANIMALS);
    return value === null || Number.isInteger(value) ? value : this.fail(`“${name}” must be a whole number.`);
  }

  culture(name: string, needed = false): string | null {
    const text = this.text(name, 200);
    if (text === null) return needed ? this.fail(`“${name}” is missing.`) : null;
    const match = this.context.findCulture(text);
    if (match && 'code' in match) return match.code;
    return this.findings.fault('code-unknown', `There is no culture “${text}”.`, this.context.detailsColumn);
  }

  animals(least = 0): number | null {
    const value = this.numberCell(least, MOST_ANIMALS);
    if (value === null || Number.isInteger(value)) return value;
    return this.findings.fault(
      'number-not-whole',
      `“${this.row.number}” is no whole number.`,
      this.context.numberColumn,
    );
  }

  numberCell(least: number, most: number): number | null {
    const { number } = this.row;
    const column = this.context.numberColumn;
    if (number === '') return this.findings.fault('number-missing', 'There is no number.', column);
    const value = plainNumber(number, '.');
    if (value !== null && value >= least && value <= most) return value;
    let kind: FaultKind = value === null ? 'number-not-understood' : 'number-too-large';
    if (/^[-−]/.test(number)) kind = 'number-negative';
    else if (value !== null && value < least) kind = 'number-zero';
    return this.findings.fault(kind, `“${number}” must be a number from ${least} to ${most}.`, column);
  }

  refuseTheRest(): void {
    for (const name of this.row.details.keys()) {
      if (!this.used.has(name)) this.fail(`“${name}” is not known here.`);
    }
  }
}
