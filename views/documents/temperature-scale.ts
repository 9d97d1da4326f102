import type { Rounding } from '../../shared/settings/units.ts';
import type { TemperatureLimits } from '../../shared/species/columns.ts';
import { type SayKey, speakerFor } from '../words/speaker.ts';
import type { Warnings } from './characters.ts';
import {
  asPlaced,
  boxMark,
  type Element,
  fillMark,
  lineMarks,
  type Mark,
  type Placed,
  ruleMark,
} from './drawing.ts';
import type { Slab } from './flow.ts';
import { type Line, wrap } from './lines.ts';
import { HAIRLINE, RULE } from './paper.ts';
import type { Reader } from './print-options.ts';
import { spread } from './spread.ts';

interface Limit {
  tempC: number;
  word: SayKey & `temperatures.${string}`;
  rounding: Rounding;
}

/** The limits, lowest first; each is rounded to its safe side. */
function limitsOf(limits: TemperatureLimits) {
  return [
    { tempC: limits.lethalLowC, word: 'temperatures.deadlyBelow', rounding: 'up' },
    { tempC: limits.safeLowC, word: 'temperatures.safeFrom', rounding: 'up' },
    { tempC: limits.idealLowC, word: 'temperatures.idealFrom', rounding: 'up' },
    { tempC: limits.idealHighC, word: 'temperatures.idealTo', rounding: 'down' },
    { tempC: limits.safeHighC, word: 'temperatures.safeTo', rounding: 'down' },
    { tempC: limits.lethalHighC, word: 'temperatures.deadlyAbove', rounding: 'down' },
  ] as const satisfies Limit[];
}

/** The limits in three short sentences. */
export function limitsInWords(limits: TemperatureLimits, reader: Reader): string {
  const speaker = speakerFor(reader);
  const range = (lowC: number, highC: number) => ({ range: speaker.temps(lowC, highC, reader.units) });
  return [
    speaker.say('temperatures.ideal', range(limits.idealLowC, limits.idealHighC)),
    speaker.say('temperatures.safe', range(limits.safeLowC, limits.safeHighC)),
    speaker.say('temperatures.deadly', {
      low: speaker.temp(limits.lethalLowC, reader.units, 'up'),
      high: speaker.temp(limits.lethalHighC, reader.units, 'down'),
    }),
  ].join(' ');
}

type Known = ReturnType<typeof limitsOf>[number];

export interface ScaleSetting {
  widthPt: number;
  barPt: number;
  figurePt: number;
  /** Words under the figures; 0 leaves them out. */
  wordPt: number;
  reader: Reader;
}

/** The limits drawn as a bar: black is ideal, grey is safe, white is stress, hatched is deadly. */
export function temperatureScale(
  limits: TemperatureLimits,
  setting: ScaleSetting,
  owner: Element | null,
  warnings: Warnings,
): Slab {
  const known = limitsOf(limits);
  const labels = known.map((limit) => labelOf(limit, setting, warnings));
  const leadPt = 7;
  const labelPt = Math.max(
    0,
    ...labels.map((lines) => lines.reduce((total, line) => total + line.heightPt, 0)),
  );
  return {
    heightPt: setting.barPt + leadPt + labelPt,
    gapPt: 0,
    keepWithNext: false,
    draw: (xPt, yPt) => {
      if (owner) owner.box = [xPt, yPt, xPt + setting.widthPt, yPt + setting.barPt + leadPt + labelPt];
      const toX = axis(known, xPt, setting.widthPt);
      const bar = barMarks(
        limits,
        known,
        { xPt, yPt, widthPt: setting.widthPt, heightPt: setting.barPt },
        toX,
      );
      const base = yPt + setting.barPt;
      const widths = labels.map((lines) => Math.max(...lines.map((line) => line.widthPt)) + 5);
      const ticks = known.map((limit) => toX(limit.tempC));
      const centres = spread(ticks, widths, xPt - 2, xPt + setting.widthPt + 2);
      const drawn = labels.flatMap((lines, index) =>
        labelMarks(lines, centres[index] ?? 0, ticks[index] ?? 0, base, leadPt, owner),
      );
      return [...asPlaced(bar, owner), ...drawn];
    },
  };
}

function labelOf(limit: Known, setting: ScaleSetting, warnings: Warnings): Line[] {
  const speaker = speakerFor(setting.reader);
  const figure = speaker.temp(limit.tempC, setting.reader.units, limit.rounding);
  const shown = setting.wordPt > 0 ? figure : figure.replace(/\u00a0.*/, '°');
  const lines = wrap(
    [{ text: shown, style: { face: 'bold', sizePt: setting.figurePt, leading: 1.15 } }],
    1000,
    warnings,
  );
  if (setting.wordPt === 0) return lines;
  const word = {
    text: speaker.say(limit.word),
    style: { face: 'regular' as const, sizePt: setting.wordPt, leading: 1.15 },
  };
  return [...lines, ...wrap([word], 1000, warnings)];
}

function labelMarks(
  lines: Line[],
  centre: number,
  tick: number,
  base: number,
  leadPt: number,
  owner: Element | null,
): Placed[] {
  let y = base + leadPt;
  const texts = lines.flatMap((line) => {
    const marks = lineMarks(line, centre - line.widthPt / 2, y, owner);
    y += line.heightPt;
    return marks;
  });
  const lead: Mark = {
    kind: 'path',
    points: [
      [tick, base],
      [tick, base + 2],
      [centre, base + leadPt - 1],
    ],
    closed: false,
    stroke: { widthPt: HAIRLINE },
  };
  return [...asPlaced([lead], owner), ...texts];
}

/** Maps a temperature to x: the known limits fill the bar but for a margin at each end. */
function axis(known: readonly Known[], xPt: number, widthPt: number): (tempC: number) => number {
  const temps = known.map((limit) => limit.tempC);
  const low = Math.min(...temps);
  const span = Math.max(Math.max(...temps) - low, 1);
  return (tempC) => xPt + widthPt * (0.08 + (0.84 * (tempC - low)) / span);
}

interface Bar {
  xPt: number;
  yPt: number;
  widthPt: number;
  heightPt: number;
}

function barMarks(
  limits: TemperatureLimits,
  known: readonly Known[],
  bar: Bar,
  toX: (tempC: number) => number,
): Mark[] {
  const { xPt, yPt, widthPt, heightPt } = bar;
  const zone = (low: number, high: number, fill: number): Mark =>
    fillMark(toX(low), yPt, toX(high) - toX(low), heightPt, fill);
  const marks = [
    zone(limits.safeLowC, limits.safeHighC, 0.22),
    zone(limits.idealLowC, limits.idealHighC, 1),
    hatch(xPt, toX(limits.lethalLowC), yPt, heightPt),
    hatch(toX(limits.lethalHighC), xPt + widthPt, yPt, heightPt),
  ];
  for (const { tempC } of known) {
    marks.push(ruleMark(toX(tempC), yPt, toX(tempC), yPt + heightPt, { widthPt: RULE }));
  }
  marks.push(boxMark(xPt, yPt, widthPt, heightPt, { widthPt: RULE }));
  return marks;
}

/** Slanted lines that fill an upright box without leaving it. */
function hatch(x1: number, x2: number, yPt: number, heightPt: number): Mark {
  const lines: string[] = [];
  const step = 3;
  for (let start = x1 - heightPt + step; start < x2; start += step) {
    const fromX = Math.max(start, x1);
    const toX = Math.min(start + heightPt, x2);
    lines.push(`M${fromX} ${yPt + heightPt - (fromX - start)}L${toX} ${yPt + heightPt - (toX - start)}`);
  }
  return { kind: 'curve', d: lines.join(''), stroke: { widthPt: HAIRLINE } };
}
