import type { Language } from '../../shared/settings/languages.ts';
import { renderPage } from '../layout/render.ts';

/** A letter to a customer, piece by piece; each piece stands in the plain text and in the HTML alike. */
export type MailPart =
  | { kind: 'words'; text: string }
  | { kind: 'list'; title: string; items: readonly string[] }
  | { kind: 'link'; text: string; href: string };

export type MailText = { subject: string; parts: readonly MailPart[] };

function plainPart(part: MailPart): string {
  if (part.kind === 'words') return part.text;
  if (part.kind === 'link') return `${part.text}\n${part.href}`;
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
