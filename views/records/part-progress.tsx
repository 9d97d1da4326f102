import { cultureHref } from '../cultures/page-list.tsx';
import { Code } from '../layout/code.tsx';
import { formatCount } from '../layout/format.ts';
import { Notice } from '../layout/notice.tsx';
import { Progress } from '../layout/progress.tsx';

export type EstimatesProgressProps = {
  total: number;
  done: number;
  faults: { code: string; fault: string }[];
  /** Where to ask again. */
  href: string;
  locale: string;
};

const mostShown = 10;

/** How far the estimates are; asks again by itself until all are there, or by a link without JavaScript. */
export function EstimatesProgress({ total, done, faults, href, locale }: EstimatesProgressProps) {
  const ready = done >= total;
  return (
    <div
      id="estimates"
      role="status"
      hx-get={ready ? undefined : href}
      hx-trigger={ready ? undefined : 'every 2s'}
      hx-swap={ready ? undefined : 'outerHTML'}
      hx-target={ready ? undefined : 'this'}
    >
      {total > 0 && !ready && (
        <>
          <p>Working out how many animals are in each culture. You can go on meanwhile.</p>
          <Progress done={done} total={total} label="cultures worked out" locale={locale} />
          <p class="quiet">
            <a href={href}>Look again</a>
          </p>
        </>
      )}
      {total > 0 && ready && (
        <p>
          {formatCount(total, 'culture is', 'cultures are', locale)} worked out.{' '}
          <a href="/cultures">To the cultures</a>, or to <a href="/surplus">what can be spared</a>.
        </p>
      )}
      {faults.length > 0 && (
        <Notice tone="needs-you">
          {formatCount(faults.length, 'culture has', 'cultures have', locale)} a diary that contradicts
          itself, so that nothing can be said of {faults.length === 1 ? 'it' : 'them'} yet:
          <ul>
            {faults.slice(0, mostShown).map(({ code, fault }) => (
              <li key={code}>
                <Code href={cultureHref(code)}>{code}</Code> {fault}
              </li>
            ))}
          </ul>
        </Notice>
      )}
    </div>
  );
}
