import type { WaterOutlook } from '../../shared/climate/water-outlook.ts';
import { daysBetween } from '../../shared/days.ts';
import { ChartFrame } from '../layout/chart-frame.tsx';
import type { Fact } from '../layout/facts.tsx';
import { defaultLocale, formatAgo, formatDay, formatNumber } from '../layout/format.ts';
import { DataTable } from '../layout/table.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';

type WaterProps = { outlook: WaterOutlook | null; today: string; locale?: string };

const sheet = { width: 360, height: 136, left: 28, right: 350, top: 24, bottom: 112, text: 12 };

const inTen = (chance: number, locale: string) => `${formatNumber(chance * 10, locale)} in 10`;

function finding(outlook: WaterOutlook, today: string, locale: string): string {
  if (outlook.foundDryOn) return `Found dry ${formatAgo(daysBetween(outlook.foundDryOn, today))}: give water`;
  const day = formatDay(outlook.dueOn, locale, 'month-day');
  const range =
    outlook.dryFrom && outlook.dryTo
      ? ` (${formatDay(outlook.dryFrom, locale, 'month-day')} to ${formatDay(outlook.dryTo, locale, 'month-day')})`
      : '';
  return outlook.dueOn <= today ? `Likely dry by now${range}` : `Likely dry about ${day}${range}`;
}

function why(outlook: WaterOutlook, locale: string): string {
  const { median, lower, upper } = outlook.lastsDays;
  const days = (value: number) => formatNumber(value, locale, value < 9.95 ? 1 : 0);
  const lasts = `A full watering lasts about ${days(median)} days (${days(lower)} to ${days(upper)}) in air as dry as now`;
  const kpa = `${formatNumber(outlook.vpdKpa, locale, 1)} kPa`;
  const air = outlook.isMeasured
    ? `${kpa}, as read in its room`
    : `${kpa}, as in a living room: no reading of its own room yet`;
  const learned = outlook.isLearned
    ? `Learned from ${formatNumber(outlook.seenCycles, locale)} dryings of this culture.`
    : 'Mostly what is usual for such boxes (common practice, no source): note wet, moist or dry at each check and it learns.';
  return `${lasts} (${air}). ${learned}`;
}

type CurveProps = { outlook: WaterOutlook; today: string; locale: string };

const round = (value: number) => Math.round(value * 10) / 10;
const y = (chance: number) => round(sheet.bottom - (sheet.bottom - sheet.top) * chance);

function ChanceAxis() {
  const { left, right, text } = sheet;
  return (
    <g>
      <text x={0} y={text} font-size={text}>
        chance that the surface is dry, in 10
      </text>
      {[0, 0.5, 1].map((chance) => (
        <g key={chance}>
          <line
            class={chance === 0 ? 'curve-ground' : 'curve-grid'}
            x1={left}
            x2={right}
            y1={y(chance)}
            y2={y(chance)}
          />
          <text x={left - 5} y={y(chance) + 4} text-anchor="end" font-size={text}>
            {chance * 10}
          </text>
        </g>
      ))}
    </g>
  );
}

function TodayLine({ x }: { x: number }) {
  const { left, right, top, bottom, text } = sheet;
  const isNearEnd = x > (left + right) / 2;
  return (
    <g>
      <line class="curve-today" x1={x} x2={x} y1={top} y2={bottom} />
      <text
        class="curve-label"
        x={x + (isNearEnd ? -4 : 4)}
        y={top + text}
        text-anchor={isNearEnd ? 'end' : 'start'}
        font-size={text}
      >
        today
      </text>
    </g>
  );
}

function Curve({ outlook, today, locale }: CurveProps) {
  const { curve } = outlook;
  const first = curve[0]?.date ?? today;
  const last = curve.at(-1)?.date ?? first;
  const { left, right, bottom, text } = sheet;
  const x = (date: string) =>
    round(left + ((right - left) * daysBetween(first, date)) / Math.max(1, curve.length - 1));
  const path = curve.map(({ date, chance }, i) => `${i === 0 ? 'M' : 'L'}${x(date)} ${y(chance)}`).join('');
  return (
    <svg
      class="curve water-curve"
      viewBox={`0 0 ${sheet.width} ${sheet.height}`}
      role="img"
      aria-label={finding(outlook, today, locale)}
    >
      <ChanceAxis />
      <path class="curve-line" d={path} />
      {today >= first && today <= last && <TodayLine x={x(today)} />}
      <text x={left} y={bottom + text * 1.5} font-size={text}>
        {first === outlook.wetOn && 'wet '}
        {formatDay(first, locale, 'month-day')}
      </text>
      <text x={right} y={bottom + text * 1.5} text-anchor="end" font-size={text}>
        {formatDay(last, locale, 'month-day')}
      </text>
    </svg>
  );
}

/** What went in, with its values. */
const inputsOf = (outlook: WaterOutlook, locale: string): Fact[] => [
  { term: 'Last known wet', value: formatDay(outlook.wetOn, locale) },
  {
    term: 'The air could take up',
    value: `${formatNumber(outlook.vpdKpa, locale, 2)} kPa`,
    note: outlook.isMeasured ? 'as read in its room' : 'as in a living room',
  },
  { term: 'Dryings seen', value: formatNumber(outlook.seenCycles, locale) },
];

/** How the day follows from it. */
function steps({ wetOn, lastsDays, dueOn, foundDryOn }: WaterOutlook, locale: string): string[] {
  if (foundDryOn)
    return [`Found dry on ${formatDay(foundDryOn, locale)} and not watered since: due at once.`];
  const lasts = formatNumber(lastsDays.median, locale, 1);
  return [
    `Wet on ${formatDay(wetOn, locale)}, and a full watering lasts about ${lasts} days in the air of now: with the air of the days between, dry is likelier than not from ${formatDay(dueOn, locale)}.`,
  ];
}

/** When a culture will likely be dry, and why that is thought. */
export function Water({ outlook, today, locale = defaultLocale }: WaterProps) {
  return (
    <section aria-labelledby="water-title">
      <h2 id="water-title">Water</h2>
      {outlook === null ? (
        <p class="quiet">
          When it dries is not known: nothing was noted lately of the surface or of water given. Choose wet,
          moist or dry at the next check, and write down the water.
        </p>
      ) : (
        <ChartFrame
          finding={finding(outlook, today, locale)}
          caption={why(outlook, locale)}
          computed="drying"
          table={
            <DataTable
              caption="Chance of a dry surface by day"
              hideCaption
              rows={outlook.curve}
              rowKey={(row) => row.date}
              columns={[
                { key: 'day', head: 'Day', rowHeader: true, cell: (row) => formatDay(row.date, locale) },
                {
                  key: 'dry',
                  head: 'Dry by then',
                  numeric: true,
                  computed: 'drying',
                  cell: (row) => inTen(row.chance, locale),
                },
              ]}
            />
          }
        >
          <Curve outlook={outlook} today={today} locale={locale} />
        </ChartFrame>
      )}
      {outlook !== null && (
        <WorkedOut of="drying" here={inputsOf(outlook, locale)} so={steps(outlook, locale)} />
      )}
    </section>
  );
}
