import { movedAddresses } from '$lib/components/frame/moved-addresses';

export const match = (name: string) => name in movedAddresses;
