/** Where a page stands that had another address before: old links and bookmarks lead on. */
export const movedAddresses: Readonly<Record<string, string>> = {
	measure: '/tests/',
	progress: '/athletes/progress/',
	fuel: '/athletes/weight/',
	methods: '/help/methods/',
	backup: '/settings/backup/',
	folder: '/settings/folder/',
	import: '/settings/import/'
};
