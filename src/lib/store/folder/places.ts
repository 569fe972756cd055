import type { SharedName } from './names';

/**
 * Where a file lies in the shared folder. What says how things stand (cards, plans, deletions and what takes them back)
 * lies in the folder itself: there is little of it, and a laptop of any version of this page looks there, so that a
 * deletion and a stop after a blow to the head reach every one. What is added up over the years lies in a folder of
 * the year in which it was written, by the clock of whoever wrote it:
 *
 *     files/<YYYY>/<name>
 *
 * A name says all, so a file is the same one wherever it lies. What lay in the folder itself before stays there.
 *
 * As long as a machine has a page that looks in no year, everything is written into the folder itself. One that looks
 * says so there once, by a file of its own, which the others need not open:
 *
 *     <machine>.knows-years.json
 */
export type Place = string;

/** The folder itself. */
export const flat: Place = '';
/** Holds the folders of the years. */
export const yearsFolder = 'files';

export const isYear = (name: string) => /^\d{4}$/.test(name);
export const placeOfYear = (year: string): Place => `${yearsFolder}/${year}`;
export const yearIn = (place: Place) => place.slice(yearsFolder.length + 1);
export const pathOf = (place: Place, name: string) => (place === flat ? name : `${place}/${name}`);

/** YYYY, in UTC as all that names say. */
export const yearOf = (ms: number) => new Date(ms).toISOString().slice(0, 4);

const byYear: ReadonlySet<SharedName['kind']> = new Set(['session', 'edit', 'days']);

/** It is added up over the years. */
export const goesByYear = ({ kind }: SharedName) => byYear.has(kind);

const knowsYears = /^([a-z\d]{1,32})\.knows-years\.json$/;

/** The file by which a machine says that it looks into the folders of the years. */
export const knowsYearsName = (machine: string) => `${machine}.knows-years.json`;

/** The machine that says so; undefined where a file is no such word. */
export const machineThatKnows = (name: string): string | undefined => knowsYears.exec(name)?.[1];
