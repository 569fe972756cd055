import type * as v from 'valibot';
import { between, daySchema, shape } from './check';

/** What is logged beside the sessions, by day: body weight, kg, and food, kcal. */
export const kgSchema = between(20, 250);
export const kcalSchema = between(0, 20_000);

/** A goal weight and the day it is wanted for. */
export type WeightGoal = v.InferOutput<typeof goalSchema>;

export const goalSchema = shape({ kg: kgSchema, date: daySchema });
