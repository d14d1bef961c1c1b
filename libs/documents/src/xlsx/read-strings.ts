import { readXml } from './read-xml.ts';
import { decodeXlsxText } from './xlsx-text.ts';

/** Gathers the text of a string item: plain or in runs, without the reading aids of East Asian texts. */
export class StringItem {
  private text = '';
  private inText = false;
  private inAid = 0;

  open(name: string): void {
    if (name === 't') this.inText = true;
    else if (name === 'rPh') this.inAid += 1;
  }

  close(name: string): void {
    if (name === 't') this.inText = false;
    else if (name === 'rPh') this.inAid -= 1;
  }

  add(text: string): void {
    if (this.inText && this.inAid === 0) this.text += text;
  }

  value(): string {
    return decodeXlsxText(this.text);
  }
}

/** The shared strings of a workbook, by index. */
export function readSharedStrings(bytes: Uint8Array, part: string): string[] {
  const strings: string[] = [];
  let item: StringItem | null = null;
  readXml(bytes, part, {
    open: (name) => {
      if (name === 'si') item = new StringItem();
      else item?.open(name);
    },
    close: (name) => {
      if (name === 'si' && item) {
        strings.push(item.value());
        item = null;
      } else item?.close(name);
    },
    text: (text) => item?.add(text),
  });
  return strings;
}
