import * as v from 'valibot';

/** What is logged beside the sessions, by day. */
export const dateSchema = v.pipe(v.string(), v.isoDate());
export const kgSchema = v.pipe(v.number(), v.minValue(20), v.maxValue(250));
export const kcalSchema = v.pipe(v.number(), v.minValue(0), v.maxValue(20_000));
/** A goal weight and the day it is wanted for. */
export const goalSchema = v.looseObject({ kg: kgSchema, date: dateSchema });
