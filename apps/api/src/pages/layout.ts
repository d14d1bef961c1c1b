import { html, type SafeHtml } from './html.ts';

/** Address of the one style sheet of the plain pages. */
export const PAGE_STYLE_PATH = '/assets/page.css';

/** A whole page for people: no script, one style sheet, readable without it too. */
export function pageOf(title: string, main: SafeHtml, tabTitle = title): string {
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="robots" content="noindex">
<title>${tabTitle}</title>
<link rel="stylesheet" href="${PAGE_STYLE_PATH}">
</head>
<body>
<header><p class="mark">Dryspell</p></header>
<main id="main">
<h1>${title}</h1>
${main}
</main>
</body>
</html>
`.text;
}
