import type { ComponentChildren } from 'preact';
import type { Furniture } from './furniture.ts';
import { Head } from './head.tsx';
import { BarNavigation, TopNavigation } from './navigation.tsx';
import { Heard, Notice, NoticeSlot } from './notice.tsx';

export type Breadcrumb = { href: string; label: string };

export type ShellProps = {
  furniture: Furniture;
  title: string;
  /** One line under the title: what the page is for. */
  purpose?: ComponentChildren;
  /** Shown as the heading in place of the title, when it needs a code or a Latin name. */
  heading?: ComponentChildren;
  width?: 'narrow' | 'wide';
  breadcrumbs?: readonly Breadcrumb[];
  /** The page's main action, and others beside it; always at the same place. */
  actions?: ComponentChildren;
  children?: ComponentChildren;
};

function Breadcrumbs({ trail }: { trail: readonly Breadcrumb[] }) {
  return (
    <nav class="breadcrumbs" aria-label="Where you are">
      <ol>
        {trail.map((step) => (
          <li key={step.href}>
            <a href={step.href}>{step.label}</a>
          </li>
        ))}
      </ol>
    </nav>
  );
}

/** The whole page: head, skip link, navigation, title with its purpose and actions, notice, content. */
export function Shell(props: ShellProps) {
  const { furniture, title, purpose, heading, width = 'narrow', breadcrumbs, actions, children } = props;
  const scheme = furniture.scheme === 'system' ? undefined : furniture.scheme;
  return (
    <html lang="en" data-scheme={scheme}>
      <Head title={title} businessName={furniture.businessName} assetVersion={furniture.assetVersion} />
      <body
        class={furniture.who ? 'page page-signed-in' : 'page page-signed-out'}
        hx-headers={JSON.stringify({ 'csrf-token': furniture.csrfToken })}
      >
        <a class="skip-link" href="#main">
          Skip to the content
        </a>
        <TopNavigation furniture={furniture} />
        <main id="main" class={`main main-${width}`} tabIndex={-1}>
          {/* Filled where the browser shows a copy it has kept: see static/waiting/mark-copy.js. */}
          <div id="kept-page" hidden />
          {breadcrumbs && breadcrumbs.length > 0 && <Breadcrumbs trail={breadcrumbs} />}
          <header class="page-head">
            <div class="page-head-words">
              <h1>{heading ?? title}</h1>
              {purpose && <p class="purpose">{purpose}</p>}
            </div>
            {actions && <div class="actions page-actions">{actions}</div>}
          </header>
          {furniture.warnings?.map(({ text, tone, word, link }) => (
            <Notice key={text} tone={tone} word={word} links={link && [link]}>
              {text}
            </Notice>
          ))}
          <NoticeSlot furniture={furniture} />
          <Heard />
          {children}
        </main>
        {furniture.who && <BarNavigation furniture={furniture} />}
        <script type="module" src={`/static/waiting-${furniture.assetVersion}/page.js`} />
      </body>
    </html>
  );
}
