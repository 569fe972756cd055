import { movedAddresses } from '$lib/components/frame/moved-addresses';
import type { EntryGenerator } from './$types';

export const entries: EntryGenerator = () => Object.keys(movedAddresses).map((old) => ({ old }));
