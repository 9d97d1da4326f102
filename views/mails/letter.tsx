import type { Language } from '../../shared/settings/languages.ts';
import { renderPage } from '../layout/render.ts';

/** A letter to a customer, piece by piece; each piece stands in the plain text and in the HTML alike. */
export type MailPart =
  | { kind: 'words'; text: string }
  | { kind: 'list'; title: string; items: readonly string[] }
  | { kind: 'link'; text: string; href: string }
  /** Leads to the customer's page of the order; filled in when the letter goes out. */
  | { kind: 'page'; text: string };

/**
 * Stands for the address of the customer's page in a letter that is kept: whoever reads the outbox or an export of it
 * shall not be able to open that page.
 */
const PAGE_TO_FILL_IN = 'https://page-of-the-order.invalid/';

/** The passages that lead to the customer's page, as plain text and as HTML. */
const PAGE_PASSAGES =
  /\n\n[^\n]*\nhttps:\/\/page-of-the-order\.invalid\/|<p><a href="https:\/\/page-of-the-order\.invalid\/">[^<]*<\/a><\/p>/g;

/** A kept letter, plain or HTML, with the address of the customer's page; without one its passage is left out. */
export const withPage = (letter: string, address: string | null): string =>
  address === null ? letter.replace(PAGE_PASSAGES, '') : letter.replaceAll(PAGE_TO_FILL_IN, () => address);

export type MailText = { subject: string; parts: readonly MailPart[] };

function plainPart(part: MailPart): string {
  if (part.kind === 'words') return part.text;
  if (part.kind === 'link') return `${part.text}\n${part.href}`;
  if (part.kind === 'page') return `${part.text}\n${PAGE_TO_FILL_IN}`;
  return [part.title, ...part.items.map((item) => `- ${item}`)].join('\n');
}

/** The letter for a reader of plain text. */
export const plainMail = ({ parts }: MailText) => `${parts.map(plainPart).join('\n\n')}\n`;

function HtmlPart({ part }: { part: MailPart }) {
  if (part.kind === 'link')
    return (
      <p>
        <a href={part.href}>{part.text}</a>
      </p>
    );
  if (part.kind === 'page')
    return (
      <p>
        <a href={PAGE_TO_FILL_IN}>{part.text}</a>
      </p>
    );
  if (part.kind === 'list')
    return (
      <>
        <p>{part.title}</p>
        <ul>
          {part.items.map((item) => (
            <li key={item}>{item}</li>
          ))}
        </ul>
      </>
    );
  return (
    <p>
      {part.text.split('\n').map((line, index) => (
        <>
          {index > 0 && <br />}
          {line}
        </>
      ))}
    </p>
  );
}

/** The same letter as HTML, without style or pictures: it takes the reader's own letters, size and colours. */
export function htmlMail({ subject, parts }: MailText, language: Language): string {
  return renderPage(
    <html lang={language}>
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width" />
        <meta name="color-scheme" content="light dark" />
        <title>{subject}</title>
      </head>
      <body>
        {parts.map((part, index) => (
          <HtmlPart key={index} part={part} />
        ))}
      </body>
    </html>,
  );
}
