export type Section = { key: string; href: string; label: string; ownerOnly: boolean };

/** The words of the navigation, in order. The first four are the helper's, and the bar on the phone. */
const sections: readonly Section[] = [
  { key: 'round', href: '/round', label: 'Round', ownerOnly: false },
  { key: 'cultures', href: '/cultures', label: 'Cultures', ownerOnly: false },
  { key: 'surplus', href: '/surplus', label: 'Surplus', ownerOnly: false },
  { key: 'orders', href: '/orders', label: 'Orders', ownerOnly: false },
  { key: 'feeders', href: '/feeders', label: 'Feeders', ownerOnly: false },
  { key: 'climate', href: '/climate', label: 'Climate', ownerOnly: false },
  { key: 'species', href: '/species', label: 'Species', ownerOnly: true },
  { key: 'customers', href: '/customers', label: 'Customers', ownerOnly: true },
  { key: 'records', href: '/records', label: 'Records', ownerOnly: true },
  { key: 'people', href: '/people', label: 'People', ownerOnly: true },
  { key: 'settings', href: '/settings', label: 'Settings', ownerOnly: true },
];

export const barLength = 4;

export function sectionsFor(role: 'owner' | 'helper'): Section[] {
  return sections.filter((section) => role === 'owner' || !section.ownerOnly);
}
