/**
 * Resolves in a task of its own, so that what the browser has waiting, a press or a frame, comes between two pieces of
 * work that would hold the page together.
 */
export const nextTask = () => new Promise<void>((resolve) => setTimeout(resolve));
