const FONT = "font-family:-apple-system,'Segoe UI',Roboto,Helvetica,Arial,sans-serif";
const INK = 'color:#1d2733';

/**
 * Styles, written into each element, since many mail readers drop style sheets. Each names its own ink and ground, and
 * each pair keeps the contrast of WCAG 2.2 AA (a test measures it).
 */
export const HTML_STYLE = {
  page: `margin:0;padding:0;background-color:#eef1f4;${FONT}`,
  sheet: `max-width:600px;margin:0 auto;padding:20px 18px;background-color:#ffffff;${INK};font-size:16px;line-height:1.5`,
  paragraph: 'margin:0 0 14px;white-space:pre-line',
  fact: 'margin:0 0 8px;white-space:pre-line',
  list: 'margin:0 0 14px;padding:0 0 0 22px',
  item: 'margin:0 0 6px',
  button:
    'display:inline-block;padding:13px 22px;background-color:#0b5cad;color:#ffffff;font-weight:bold;text-decoration:none;border-radius:4px',
  link: 'color:#0b5cad;word-break:break-all',
  small: 'margin:0 0 14px;font-size:14px',
  caution: `margin:14px 0;padding:12px 14px;background-color:#fff4d6;border-left:5px solid #8a5a00;${INK}`,
  cautionLead: 'margin:0 0 8px',
} as const;

export interface HtmlPageParams {
  readonly language: string;
  readonly direction: 'ltr' | 'rtl';
  /** Already fit for HTML, as is `body`. */
  readonly title: string;
  readonly body: string;
}

/** One column, no pictures, no scripts, nothing loaded from elsewhere. */
export function htmlPage(params: HtmlPageParams): string {
  return `<!DOCTYPE html>
<html lang="${params.language}" dir="${params.direction}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light">
<title>${params.title}</title>
</head>
<body style="${HTML_STYLE.page}">
<div style="${HTML_STYLE.sheet}">
${params.body}
</div>
</body>
</html>
`;
}
