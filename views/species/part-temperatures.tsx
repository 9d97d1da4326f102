import { formatTemp, formatTempRange, type UnitSystem } from '../../shared/settings/units.ts';
import type { TemperatureLimits } from '../../shared/species/columns.ts';
import { ChartFrame } from '../layout/chart-frame.tsx';
import { DataTable } from '../layout/table.tsx';
import { type Band, bandsOf, ticksOf } from './temperature-layout.ts';

const width = 360;
const bar = { left: 4, right: 356, top: 26, height: 26 };
const letter = 7.6;
const words: Record<Band['kind'], string> = { deadly: 'deadly', harm: 'harm', safe: 'safe', best: 'best' };

/** The style fills the others; a pattern is found only from within the page. */
const fillings: Partial<Record<Band['kind'], string>> = {
  harm: 'url(#temperature-harm)',
  deadly: 'url(#temperature-deadly)',
};

function scaleOf(limits: TemperatureLimits) {
  const span = Math.max(limits.lethalHighC - limits.lethalLowC, 1);
  const marginC = span * 0.2;
  const from = limits.lethalLowC - marginC;
  const perC = (bar.right - bar.left) / (span + 2 * marginC);
  return { marginC, x: (tempC: number) => Math.round((bar.left + (tempC - from) * perC) * 10) / 10 };
}

/** The bare number of a temperature; the unit is said once, under the scale. */
const bareTemp = (tempC: number, units: UnitSystem, locale: string | undefined, rounding: 'up' | 'down') =>
  formatTemp(tempC, units, locale, rounding).replace(/\u00a0°[CF]$/, '');

type ScaleProps = { limits: TemperatureLimits; units: UnitSystem; locale: string | undefined };

function Scale({ limits, units, locale }: ScaleProps) {
  const { marginC, x } = scaleOf(limits);
  const bottom = bar.top + bar.height;
  return (
    <svg
      class="temperatures"
      viewBox={`0 0 ${width} 102`}
      role="img"
      aria-label={findingWords(limits, units, locale)}
    >
      <defs>
        <pattern id="temperature-harm" width="6" height="6" patternUnits="userSpaceOnUse">
          <path class="section-stroke" d="M0 6L6 0" />
        </pattern>
        <pattern id="temperature-deadly" width="5" height="5" patternUnits="userSpaceOnUse">
          <path class="section-stroke" d="M0 5L5 0M0 0L5 5" />
        </pattern>
      </defs>
      {bandsOf(limits, marginC).map(({ kind, fromC, toC }) => {
        const left = x(fromC);
        const wide = x(toC) - left;
        const word = words[kind];
        return (
          <g key={`${kind} ${fromC}`}>
            <rect
              class={`band band-${kind}`}
              fill={fillings[kind]}
              x={left}
              y={bar.top}
              width={wide}
              height={bar.height}
            />
            {wide >= word.length * letter && (
              <text class="band-word" x={left + wide / 2} y={bar.top - 9} text-anchor="middle">
                {word}
              </text>
            )}
          </g>
        );
      })}
      {ticksOf(limits, x, units === 'us' ? 30 : 26).map(({ x: at, tempC, rounding, row }) => (
        <g key={tempC}>
          <path class="section-stroke" d={`M${at} ${bar.top - 3}V${bottom + 5 + row * 18}`} />
          <text class="section-name" x={at} y={bottom + 20 + row * 18} text-anchor="middle">
            {bareTemp(tempC, units, locale, rounding)}
          </text>
        </g>
      ))}
      <text class="section-note" x={bar.right} y={100} text-anchor="end">
        {units === 'us' ? '°F' : '°C'}
      </text>
    </svg>
  );
}

function findingWords(limits: TemperatureLimits, units: UnitSystem, locale?: string): string {
  const best = formatTempRange(limits.idealLowC, limits.idealHighC, units, locale);
  const low = formatTemp(limits.safeLowC, units, locale, 'up');
  const high = formatTemp(limits.safeHighC, units, locale, 'down');
  return `Best at ${best}; below ${low} or above ${high} they come to harm`;
}

/** The temperatures a species lives at, drawn on a scale that also reads in black and white. */
export function Temperatures({ limits, units, locale }: ScaleProps) {
  const low = (tempC: number) => formatTemp(tempC, units, locale, 'up');
  const high = (tempC: number) => formatTemp(tempC, units, locale, 'down');
  const rows = [
    { what: 'Best', from: low(limits.idealLowC), to: high(limits.idealHighC) },
    { what: 'Safe', from: low(limits.safeLowC), to: high(limits.safeHighC) },
    { what: 'Deadly beyond', from: low(limits.lethalLowC), to: high(limits.lethalHighC) },
  ];
  return (
    <ChartFrame
      finding={findingWords(limits, units, locale)}
      table={
        <DataTable
          caption="Temperature limits"
          hideCaption
          rows={rows}
          rowKey={(row) => row.what}
          columns={[
            { key: 'what', head: 'Range', rowHeader: true, cell: (row) => row.what },
            { key: 'from', head: 'From', numeric: true, cell: (row) => row.from },
            { key: 'to', head: 'To', numeric: true, cell: (row) => row.to },
          ]}
        />
      }
    >
      <Scale limits={limits} units={units} locale={locale} />
    </ChartFrame>
  );
}
