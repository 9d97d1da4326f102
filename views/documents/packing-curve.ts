import { speakerFor } from '../words/speaker.ts';
import { paragraph, row, stack } from './blocks.ts';
import type { Warnings } from './characters.ts';
import { CURVES, curveDrawing } from './curve-drawing.ts';
import { type Element, element } from './drawing.ts';
import type { Slab } from './flow.ts';
import type { PackingCurve, PackingParcel, PackingWeather } from './packing-parcel-data.ts';
import { words } from './packing-style.ts';
import type { Reader } from './print-options.ts';

/** The temperature that is expected inside over the trip, drawn and as a table, and where its weather is from. */
export function insideTemperature(
  parcel: PackingParcel,
  widthPt: number,
  reader: Reader,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  const section = element('Sect', parent);
  const said = finding(parcel, reader);
  const heading = paragraph(
    [words('Expected inside the box', 'heading')],
    widthPt,
    element('H2', section),
    warnings,
    { gapPt: 14, keepWithNext: true },
  );
  const title = paragraph([words(said, 'strong')], widthPt, element('P', section), warnings, {
    keepWithNext: true,
  });
  const weather = () => weatherLines(parcel, widthPt, section, warnings);
  if (parcel.curves.length === 0) return [...heading, ...title, ...weather()];
  const figure = element('Figure', section, {
    alt: `Curves of the temperature inside the box over the trip, one for each scenario. ${said}`,
  });
  return [
    stack(
      [
        ...heading,
        ...title,
        curveDrawing(parcel, widthPt, reader, figure, warnings),
        ...curveTable(parcel, widthPt, reader, section, warnings),
      ],
      { gapPt: 14 },
    ),
    ...weather(),
  ];
}

const lowest = (curves: readonly PackingCurve[]) =>
  Math.min(...curves.flatMap(({ points }) => points.map(({ insideC }) => insideC)));
const highest = (curves: readonly PackingCurve[]) =>
  Math.max(...curves.flatMap(({ points }) => points.map(({ insideC }) => insideC)));

/** What the picture shows, in a sentence. */
function finding(parcel: PackingParcel, reader: Reader): string {
  const { curves, limits, hoursBelowSafe, hoursAboveSafe } = parcel;
  if (curves.length === 0) return 'No weather is known for this trip, so no temperature can be worked out.';
  const speaker = speakerFor(reader);
  const range = speaker.temps(lowest(curves), highest(curves), reader.units);
  const safe = `${speaker.temp(limits.safeLowC, reader.units, 'up')} to ${speaker.temp(limits.safeHighC, reader.units, 'down')}`;
  const hours = (n: number) => `${n < 1 ? 'less than 1' : Math.round(n)} h`;
  const out = [
    ...(hoursBelowSafe > 0 ? [`${hours(hoursBelowSafe)} too cold`] : []),
    ...(hoursAboveSafe > 0 ? [`${hours(hoursAboveSafe)} too warm`] : []),
  ];
  return out.length === 0
    ? `${range} in every scenario; safe is ${safe}.`
    : `${range}: at worst ${out.join(' and ')}; safe is ${safe}.`;
}

const COLUMNS = ['Scenario', 'Coldest inside', 'Warmest inside', 'Coldest outside', 'Warmest outside'];

/** The curves in figures, for whoever cannot see them. */
function curveTable(
  { curves }: PackingParcel,
  widthPt: number,
  reader: Reader,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  const speaker = speakerFor(reader);
  const table = element('Table', parent);
  const cellPt = widthPt / COLUMNS.length;
  const line = (cells: string[], isHead: boolean): Slab => {
    const tr = element('TR', table);
    return row(
      cells.map((text, index) => {
        const cell = isHead
          ? element('TH', tr, { scope: 'Column' })
          : index === 0
            ? element('TH', tr, { scope: 'Row' })
            : element('TD', tr);
        const content = stack(paragraph([words(text, 'label')], cellPt - 4, cell, warnings));
        return { xPt: index * cellPt, content };
      }),
      { gapPt: 1, keepWithNext: true },
    );
  };
  const temp = (tempC: number) => speaker.temp(tempC, reader.units);
  const head = line(COLUMNS, true);
  const rows = curves.map(({ scenario, points }) => {
    const [inside, outside] = [points.map(({ insideC }) => insideC), points.map(({ outsideC }) => outsideC)];
    return line(
      [
        CURVES[scenario].words,
        ...[inside, outside].flatMap((temps) => [temp(Math.min(...temps)), temp(Math.max(...temps))]),
      ],
      false,
    );
  });
  return [{ ...head, gapPt: 5 }, ...rows];
}

const ROLES = { origin: 'Start', hub: 'On the way', destination: 'Destination' } as const;

function weatherWords({ role, place, source, read }: PackingWeather): string {
  const age = read === null ? 'no weather known' : `${source}, ${read}`;
  return `${ROLES[role]}: ${place} (${age})`;
}

const howWorkedOut =
  'Inside: worked out from these forecasts and how far off they may be, the box, its contents and its packs.';

/** Where the weather of each place is from and how old it is, and how the curves came out of it. */
function weatherLines(
  { weather, transitHours, curves }: PackingParcel,
  widthPt: number,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  const said = [
    `Trip of about ${Math.round(transitHours)} h. Weather:`,
    ...weather.map((one) => `${weatherWords(one)};`),
  ].join(' ');
  const look = `${said.replace(/;$/, '.')} Look at the forecast again before it leaves.`;
  return [
    ...paragraph([words(look, 'body')], widthPt, element('P', parent), warnings, { gapPt: 5 }),
    ...(curves.length === 0
      ? []
      : paragraph([words(howWorkedOut, 'label')], widthPt, element('P', parent), warnings, { gapPt: 3 })),
  ];
}
