import { formatNumber } from './format.ts';

export type PagerProps = {
  /** Counted from 1. */
  page: number;
  pageSize: number;
  total: number;
  href: (page: number) => string;
  /** What is listed, in the plural: 'cultures'. */
  what: string;
  locale?: string;
};

/** "61 to 90 of 412 cultures", with the pages before and after. */
export function Pager({ page, pageSize, total, href, what, locale }: PagerProps) {
  const pages = Math.max(1, Math.ceil(total / pageSize));
  const first = Math.min(total, (page - 1) * pageSize + 1);
  const last = Math.min(total, page * pageSize);
  const number = (value: number) => formatNumber(value, locale);
  return (
    <nav class="pager" aria-label={`Pages of ${what}`}>
      <span class="pager-where">
        {pages === 1
          ? `${number(total)} ${what}`
          : `${number(first)} to ${number(last)} of ${number(total)} ${what}`}
      </span>
      {pages > 1 && (
        <span class="pager-steps">
          {page > 1 && (
            <a class="button button-plain" href={href(page - 1)} rel="prev">
              Earlier page
            </a>
          )}
          <span class="pager-page">
            page {number(page)} of {number(pages)}
          </span>
          {page < pages && (
            <a class="button button-plain" href={href(page + 1)} rel="next">
              Next page
            </a>
          )}
        </span>
      )}
    </nav>
  );
}
