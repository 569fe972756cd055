/**
 * The steps after a blow to the head, in order, of the consensus of Amsterdam 2022 (Patricios et al., Br J Sports Med
 * 2023;57:695-711; read in secondary texts). Each lasts at least 24 hours.
 */
export const waySteps = ['1', '2A', '2B', '3', '4', '5', '6'] as const;
export type WayStep = (typeof waySteps)[number];

/** The last step before which no doctor has to clear the athlete. */
export const lastUncleared: WayStep = '3';
export const lastStep: WayStep = '6';

/** Whether the first step comes at or after the second one. */
export const reaches = (step: WayStep, needed: WayStep) => waySteps.indexOf(step) >= waySteps.indexOf(needed);

export const earlierStep = (one: WayStep, other: WayStep): WayStep => (reaches(one, other) ? other : one);
