import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

/** Shown while a large file is read; asks again by itself, or by a link without JavaScript. */
export function ReadingPage(props: { furniture: Furniture; href: string; names: string[] }) {
  const { furniture, href, names } = props;
  return (
    <Shell
      furniture={furniture}
      title="Reading"
      purpose={`Looking through ${names.join(' and ')}. Nothing is written yet.`}
      width="wide"
      breadcrumbs={[{ href: '/records', label: 'Records' }]}
    >
      <div
        role="status"
        hx-get={href}
        hx-trigger="every 2s"
        hx-select="#main"
        hx-target="#main"
        hx-swap="outerHTML"
        hx-sync="this:drop"
      >
        <p class="verdict">
          A large file takes up to a minute to read. This page shows it as soon as it is read.
        </p>
        <p>
          <a href={href}>Look again</a>
        </p>
      </div>
    </Shell>
  );
}
