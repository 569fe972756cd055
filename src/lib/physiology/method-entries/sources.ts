import type { Citation } from '../method-entry';

/** Known from its abstract, its tables or excerpts. */
export const abstract = (text: string): Citation => ({ text, seen: 'abstract' });

/** Not seen while the page was written. */
export const fromMemory = (text: string): Citation => ({ text, seen: 'from memory' });
