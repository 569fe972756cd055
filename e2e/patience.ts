import { expect as impatient } from '@playwright/test';

/**
 * How long an expectation may take to come true. It is meant for a slow machine that does something else as well, and
 * is the same within Playwright's runner and outside it, where the runner's settings do not reach.
 */
export const patienceMs = 60_000;

export const expect = impatient.configure({ timeout: patienceMs });
