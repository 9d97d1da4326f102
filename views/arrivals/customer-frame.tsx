import type { ComponentChildren } from 'preact';
import type { Language } from '../../shared/settings/languages.ts';
import { firstFaces } from '../layout/styles.ts';

export type CustomerFrameProps = {
  language: Language;
  businessName: string;
  title: string;
  /** One line under the title. */
  purpose?: ComponentChildren;
  assetVersion: string;
  /** What everybody must know just now; in the reader's language. */
  notice?: string | null;
  /** Search engines may take it up; a page of one customer never. */
  mayBeFound?: boolean;
  /**
   * Everybody may know its address. A customer's own page tells nobody its, for which browsers call the origin of the
   * forms on it null.
   */
  isPublic?: boolean;
  width?: 'narrow' | 'wide';
  children?: ComponentChildren;
};

/** A whole page for a customer: nothing of the staff's pages around it, and no script at all. */
export function CustomerFrame(props: CustomerFrameProps) {
  const {
    language,
    businessName,
    title,
    purpose,
    assetVersion,
    notice,
    mayBeFound,
    isPublic,
    width,
    children,
  } = props;
  const asset = (file: string) => `/static/${file}?v=${encodeURIComponent(assetVersion)}`;
  return (
    <html lang={language}>
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover" />
        <title>{businessName ? `${title} · ${businessName}` : title}</title>
        <meta name="color-scheme" content="light dark" />
        {!mayBeFound && <meta name="robots" content="noindex, nofollow" />}
        {!isPublic && <meta name="referrer" content="no-referrer" />}
        <link rel="icon" type="image/svg+xml" href={asset('favicon.svg')} />
        {firstFaces.map((href) => (
          <link key={href} rel="preload" as="font" type="font/woff2" href={href} crossorigin="anonymous" />
        ))}
        <link rel="stylesheet" href={asset('customers.css')} />
      </head>
      <body class="page page-customer">
        <main id="main" class={`main main-${width ?? 'narrow'}`}>
          <header class="page-head">
            <div class="page-head-words">
              <h1>{title}</h1>
              {purpose && <p class="purpose">{purpose}</p>}
            </div>
          </header>
          {notice && (
            <p class="customer-said" role="status">
              {notice}
            </p>
          )}
          {children}
        </main>
      </body>
    </html>
  );
}
