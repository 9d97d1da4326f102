import type { ComponentChildren } from 'preact';
import { Latin } from '../layout/code.tsx';

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
