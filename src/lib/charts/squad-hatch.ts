/** The one hatching that all bars of a squad are filled with; `squad-hatch.svelte` defines it once a screen. */
export const hatchId = 'squad-over';
