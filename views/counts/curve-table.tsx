import { Day } from '../layout/number.tsx';
import { formatEstimate } from '../layout/round-estimate.ts';
import { type Column, DataTable } from '../layout/table.tsx';
import type { CurveData } from './curve-plan.ts';

type Line = { key: string; date: string; what: string; animals: string; estimate: string };

function linesOf(data: CurveData, locale: string): Line[] {
  const number = (value: number) => Math.round(value).toLocaleString(locale);
  const lines: Omit<Line, 'key'>[] = [
    ...data.counts.map((count) => ({
      date: count.date,
      what: count.method,
      animals: `${number(count.counted)} seen`,
      estimate: formatEstimate(count.impliedMedian, count.impliedLower, count.impliedUpper, locale),
    })),
    ...data.removals.map((change) => ({
      date: change.date,
      what: change.label,
      animals: `${number(change.animals)} out`,
      estimate: '',
    })),
    ...data.additions.map((change) => ({
      date: change.date,
      what: change.label,
      animals: `${number(change.animals)} in`,
      estimate: '',
    })),
    ...data.dieOffs.map((dieOff) => ({
      date: dieOff.date,
      what: dieOff.label ?? 'die-off',
      animals: '',
      estimate: '',
    })),
  ];
  const now = data.past.at(-1);
  const end = data.ahead.at(-1);
  for (const [point, what] of [
    [now, 'estimate today'],
    [end, 'estimate ahead'],
  ] as const) {
    if (!point) continue;
    const estimate = formatEstimate(point.median, point.lower, point.upper, locale);
    lines.push({ date: point.date, what, animals: '', estimate });
  }
  return lines
    .map((line, index) => ({ ...line, key: `${line.date} ${index}` }))
    .sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
}

/** What the curve shows, for those who cannot see it: every count, removal and addition, and the estimate. */
export function CurveTable({ data, locale }: { data: CurveData; locale: string }) {
  const columns: Column<Line>[] = [
    { key: 'day', head: 'Day', rowHeader: true, cell: (line) => <Day iso={line.date} locale={locale} /> },
    { key: 'what', head: 'What', cell: (line) => line.what },
    { key: 'animals', head: 'Animals', numeric: true, cell: (line) => line.animals },
    {
      key: 'estimate',
      head: 'So many in all',
      computed: 'population',
      numeric: true,
      phoneWide: true,
      cell: (line) => line.estimate,
    },
  ];
  return (
    <DataTable
      caption="What was seen, taken out and put in"
      hideCaption
      columns={columns}
      rows={linesOf(data, locale)}
      rowKey={(line) => line.key}
    />
  );
}
