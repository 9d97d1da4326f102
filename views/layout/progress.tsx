import { formatNumber } from './format.ts';

/** Long work, with a count: "120 of 412 cultures". */
export function Progress(props: {
  done: number;
  total: number;
  label: string;
  locale?: string;
  id?: string;
}) {
  const { done, total, label, locale, id } = props;
  const words = `${formatNumber(done, locale)} of ${formatNumber(total, locale)} ${label}`;
  return (
    <p class="progress" id={id}>
      <progress value={Math.min(done, total)} max={Math.max(total, 1)} aria-label={words} />
      <span>{words}</span>
    </p>
  );
}
