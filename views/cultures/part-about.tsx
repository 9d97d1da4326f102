import type { ComponentChildren } from 'preact';
import { Code, Latin } from '../layout/code.tsx';
import { cultureHref } from './page-list.tsx';

export type AboutCultureProps = {
  scientificName: string;
  place?: string | null;
  children: ComponentChildren;
};

/** The line under the title of a page about one culture: what is in it, where it stands, and what the page is for. */
export function AboutCulture({ scientificName, place, children }: AboutCultureProps) {
  return (
    <>
      <Latin>{scientificName}</Latin>
      {place && `, ${place}`}: {children}
    </>
  );
}

/** The title of a page on which something is done with one culture; its code leads to the culture. */
export function CultureHeading({ code, children }: { code: string; children: ComponentChildren }) {
  return (
    <>
      {children}{' '}
      <Code large href={cultureHref(code)}>
        {code}
      </Code>
    </>
  );
}
