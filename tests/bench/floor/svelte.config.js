import adapter from '@sveltejs/adapter-static';

const built = '../../../test-results/floor';

/** @type {import('@sveltejs/kit').Config} */
export default {
	compilerOptions: { runes: true },
	kit: {
		adapter: adapter({ pages: built, assets: built, precompress: true }),
		// Where nothing looks for sources.
		outDir: `${built}-parts`
	}
};
