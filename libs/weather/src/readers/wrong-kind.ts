/** What a file looks like from the start of its first lines, in words for people; null when it could be anything. */
export function looksLike(firstLines: readonly string[]): string | null {
  const start = (firstLines.find((line) => line.trim() !== '') ?? '').replace(/^\uFEFF/, '').trimStart();
  if (start === '') return 'an empty file';
  if (start.startsWith('PK\u0003\u0004')) return 'a zip archive or a workbook; unpack it first';
  if (start.startsWith('\u001F\u008B') || start.startsWith('\u001F\uFFFD'))
    return 'a gzip archive; unpack it first';
  if (start.startsWith('%PDF')) return 'a PDF document';
  if (start.includes('\u0000')) return 'a binary file, or text in UTF-16; save it as UTF-8';
  if (/^[{[]/.test(start)) return 'a JSON document';
  if (/^<(!doctype|html)/i.test(start)) return 'a web page, such as the one a failed download leaves';
  if (start.startsWith('<')) return 'an XML document';
  if (/^LOCATION,/i.test(start)) return 'an EPW weather file';
  if (/^(METAR|SPECI|TAF)\s/.test(start)) return 'METAR or TAF reports';
  if (/^BEGIN:VCALENDAR/i.test(start)) return 'a calendar';
  if (/[,;\t]/.test(start)) return 'a table of text (CSV)';
  return null;
}
