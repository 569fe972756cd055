import base from './playwright.config';
const { webServer: _, ...rest } = base;
export default { ...rest, workers: 2, reporter: [['list']] };
