import { htmxConfig } from './htmx.ts';
import { firstFaces } from './styles.ts';

export function Head(props: { title: string; businessName: string; assetVersion: string }) {
  const { title, businessName, assetVersion } = props;
  const asset = (file: string) => `/static/${file}?v=${encodeURIComponent(assetVersion)}`;
  return (
    <head>
      <meta charset="utf-8" />
      <meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover" />
      <title>{title === businessName ? title : `${title} · ${businessName}`}</title>
      <meta name="color-scheme" content="light dark" />
      <meta name="robots" content="noindex, nofollow" />
      <meta name="htmx-config" content={JSON.stringify(htmxConfig)} />
      <link rel="icon" type="image/svg+xml" href={asset('favicon.svg')} />
      {firstFaces.map((href) => (
        <link key={href} rel="preload" as="font" type="font/woff2" href={href} crossorigin="anonymous" />
      ))}
      <link rel="stylesheet" href={asset('staff.css')} />
      <script src={asset('htmx.min.js')} defer />
      <script src={asset('app.js')} defer />
      <script src={asset('counting.js')} defer />
    </head>
  );
}
