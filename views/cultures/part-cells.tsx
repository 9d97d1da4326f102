import { Estimate, IntervalMark } from '../layout/number.tsx';

/** The morph and the line under a culture's name in a table. */
export function MorphAndLine({ morph, line }: { morph: string; line: string | null }) {
  if (!morph && !line) return null;
  return <small class="under"> {[morph, line && `line ${line}`].filter(Boolean).join(', ')}</small>;
}

export type Numbered = {
  fault: string | null;
  median: number | null;
  lower: number | null;
  upper: number | null;
  reserve: number | null;
  capacityMedian: number | null;
};

/** A culture's number in words and drawn; `scale` is the right end of the drawing, the same for rows of one table. */
export function NumberCell(props: {
  known: Numbered | null;
  countedDaysAgo: number | null;
  scale?: number;
  locale?: string;
}) {
  const { known, countedDaysAgo, scale, locale } = props;
  if (known?.median == null) return <>{known?.fault ?? 'not worked out yet'}</>;
  const band = { median: known.median, lower: known.lower ?? 0, upper: known.upper ?? 0 };
  const limits = { reserve: known.reserve ?? undefined, capacity: known.capacityMedian ?? undefined };
  return (
    <>
      <Estimate {...band} ageDays={countedDaysAgo ?? undefined} locale={locale} />
      <IntervalMark {...band} {...limits} max={scale} />
    </>
  );
}
