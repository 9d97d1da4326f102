import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import { limits } from './limits.ts';

/** One record of a CSV file and the line it starts on (the first line of a file is 1). */
export interface CsvRecord {
  line: number;
  cells: string[];
  /** The quotation marks of this line do not pair up: `cells` holds the whole line as it stands. */
  broken: boolean;
}

const LINE_ENDS = ['\r\n', '\n', '\r'];
/** After so many lines with broken quotation marks the marks of a file mean nothing. */
const MOST_BROKEN = 100;

/**
 * The records of a CSV text (RFC 4180, with any line end and any one delimiter), and how many blank ones lie between.
 *
 * The library parses; what stands here is only where to go on after a quotation mark that is never closed. The library
 * either stops there or takes all that follows into one cell; a breeder's file must lose that one line and be told its
 * number. So a record whose marks do not pair up gives up its first line alone, and parsing begins anew on the next.
 *
 * @example readRecords('a,b\n1,"x, y"\n', ',') // lines 1 and 2; the second holds '1' and 'x, y'
 */
export function readRecords(
  text: string,
  delimiter: string,
  most = Number.POSITIVE_INFINITY,
): { records: CsvRecord[]; blank: number } {
  const reader = new Reader(text, delimiter, most);
  while (reader.hasMore()) reader.readOn();
  return { records: reader.records, blank: reader.blank };
}

class Reader {
  readonly records: CsvRecord[] = [];
  blank = 0;
  private at = 0;
  private line = 1;
  /** How many lines are looked at: all of them, but few after a broken one, so that each is read a few times only. */
  private span = Number.POSITIVE_INFINITY;
  private broken = 0;

  constructor(
    private readonly text: string,
    private readonly delimiter: string,
    private readonly most: number,
  ) {}

  hasMore(): boolean {
    return this.at < this.text.length && this.records.length < this.most;
  }

  readOn(): void {
    const withQuotes = this.broken < MOST_BROKEN;
    const end = pastLines(this.text, this.at, withQuotes ? this.span : Number.POSITIVE_INFINITY);
    // The library counts blank lines too; the more there were, the further it looks.
    const left = this.most - this.records.length + 2 * this.blank;
    const parsed = parsePart(this.text.slice(this.at, end), this.delimiter, withQuotes, left);
    for (const cells of parsed.records) if (!this.take(cells, withQuotes)) return;
    if (parsed.open && (end === this.text.length || this.span > limits.cellLines)) this.giveUpLine();
    else if (parsed.records.length === 0 && end === this.text.length) this.passBlankEnd();
    else this.span *= 2;
  }

  /** The library makes no record of white space after the last line end. */
  private passBlankEnd(): void {
    this.at = this.text.length;
    this.blank += 1;
  }

  /** False where the record is none: its first line is given up and what follows must be parsed anew. */
  private take(cells: string[], withQuotes: boolean): boolean {
    if (this.records.length >= this.most) return false;
    const breaks = withQuotes ? breaksIn(cells) : 0;
    const end = pastLines(this.text, this.at, 1 + breaks);
    const marked = cells.some((cell) => cell.startsWith('"'));
    const wrong = breaks > limits.cellLines || (marked && this.closesBadly(this.text.slice(this.at, end)));
    if (wrong || (marked && !withQuotes)) {
      this.giveUpLine();
      // A broken record of one line has taken nothing with it.
      return breaks === 0;
    }
    if (cells.some((cell) => cell.trim() !== ''))
      this.records.push({ line: this.line, cells, broken: false });
    else this.blank += 1;
    this.at = end;
    this.line += 1 + breaks;
    return true;
  }

  private giveUpLine(): void {
    const end = pastLines(this.text, this.at, 1);
    const whole = this.text.slice(this.at, end).replace(/[\r\n]+$/, '');
    this.records.push({ line: this.line, cells: [whole], broken: true });
    this.at = end;
    this.line += 1;
    this.broken += 1;
    this.span = 2;
  }

  /** Whether text follows a closing quotation mark; the library's tolerance for `6" tub` takes that for text too. */
  private closesBadly(record: string): boolean {
    const codes: string[] = [];
    const tell = (error?: { code: string }) => {
      codes.push(error?.code ?? '');
      return undefined;
    };
    parse(record, { ...optionsFor(this.delimiter), relax_quotes: false, on_skip: tell });
    return codes.includes('CSV_INVALID_CLOSING_QUOTE');
  }
}

const optionsFor = (delimiter: string) => ({
  delimiter,
  record_delimiter: LINE_ENDS,
  relax_quotes: true,
  relax_column_count: true,
  skip_records_with_error: true,
  ltrim: true,
});

/** `open`: the last record is not among them, because its quotation mark is not closed. */
function parsePart(
  text: string,
  delimiter: string,
  withQuotes: boolean,
  most: number,
): { records: string[][]; open: boolean } {
  let open = false;
  const on_skip = () => {
    open = true;
    return undefined;
  };
  const to = Number.isFinite(most) ? { to: Math.max(1, most) } : {};
  const quote = withQuotes ? {} : { quote: null };
  const records = parse(text, { ...optionsFor(delimiter), ...to, ...quote, on_skip }) as string[][];
  return { records, open };
}

/** One record as a line of CSV without its line end; cells are quoted only where they must be. */
export function writeRecord(cells: readonly string[], delimiter = ','): string {
  return writeRecords([cells], delimiter).replace(/\r\n$/, '');
}

/** Records as lines of CSV, each with its line end; cells are quoted only where they must be. */
export function writeRecords(records: readonly (readonly string[])[], delimiter = ','): string {
  return stringify(records as string[][], {
    delimiter,
    record_delimiter: '\r\n',
    quoted_match: [/[\r\n]/, /^\s|\s$/],
  });
}

function breaksIn(cells: readonly string[]): number {
  let breaks = 0;
  for (const cell of cells) {
    if (cell.includes('\n') || cell.includes('\r')) breaks += cell.match(/\r\n|\n|\r/g)!.length;
  }
  return breaks;
}

/** Where the text goes on after so many lines. */
function pastLines(text: string, from: number, lines: number): number {
  if (lines === Number.POSITIVE_INFINITY) return text.length;
  let at = from;
  for (let n = 0; n < lines && at < text.length; n += 1) {
    while (at < text.length && text[at] !== '\n' && text[at] !== '\r') at += 1;
    at += text[at] === '\r' && text[at + 1] === '\n' ? 2 : 1;
  }
  return Math.min(at, text.length);
}
