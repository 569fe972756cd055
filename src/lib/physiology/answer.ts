/** A value, or the reason why there is none, in a sentence for the page; never both. */
export type Answer<T> = { value: T; reason?: undefined } | { value?: undefined; reason: string };
