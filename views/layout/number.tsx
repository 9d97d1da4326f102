import type { WorkingName } from '../workings/registry.ts';
import { classes } from './classes.ts';
import {
  type DayForm,
  defaultLocale,
  formatAgo,
  formatDay,
  formatMoment,
  formatMoney,
  formatNumber,
} from './format.ts';
import { roundEstimate } from './round-estimate.ts';

export * from './interval-mark.tsx';
export * from './round-estimate.ts';

export type EstimateProps = {
  median: number;
  lower: number;
  upper: number;
  /** Days since the last count. */
  ageDays?: number;
  /** What is counted, in the plural: 'animals'. */
  unit?: string;
  locale?: string;
  /** What works it out; the page must hold a `WorkedOut` of it. */
  of?: WorkingName;
};

/** From this age on a number fades and says its age. */
const staleAfterDays = 28;

/** A number with its doubt: "about 140 (105 to 190)". A stale one fades and says its age. */
export function Estimate(props: EstimateProps) {
  const { ageDays, unit, locale = defaultLocale } = props;
  const { median, lower, upper, exact } = roundEstimate(props.median, props.lower, props.upper);
  const isStale = ageDays !== undefined && ageDays >= staleAfterDays;
  const number = (value: number) => formatNumber(value, locale);
  return (
    <span class={classes('estimate', isStale && 'estimate-stale')} data-computed={props.of ?? 'population'}>
      {!exact && 'about '}
      <span class="estimate-middle">{number(median)}</span>
      {!exact && lower !== upper && (
        <>
          {' '}
          <span class="estimate-interval">
            ({number(lower)} to {number(upper)})
          </span>
        </>
      )}
      {unit && ` ${unit}`}
      {isStale && <span class="estimate-age">, counted {formatAgo(ageDays)}</span>}
    </span>
  );
}

/** An amount in minor units with its ISO 4217 code. */
export function Money(props: { minor: number; currency: string; locale?: string }) {
  return <span class="figure">{formatMoney(props.minor, props.currency, props.locale)}</span>;
}

export function Day(props: { iso: string; form?: DayForm; locale?: string }) {
  return <time dateTime={props.iso}>{formatDay(props.iso, props.locale, props.form)}</time>;
}

/** An instant (ms UTC) as a clock in the business's time zone shows it. */
export function Moment(props: { at: number; timeZone: string; locale?: string }) {
  return (
    <time dateTime={new Date(props.at).toISOString()}>
      {formatMoment(props.at, props.timeZone, props.locale)}
    </time>
  );
}

/** How long ago, in days; below zero it is still to come. */
export function Ago(props: { days: number }) {
  return <span class="ago">{formatAgo(props.days)}</span>;
}
