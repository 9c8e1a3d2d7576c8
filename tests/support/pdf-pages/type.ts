import { readFileSync } from 'node:fs'
import { onePage, type PdfText } from '../pdf-write.ts'
import { box, circle, cmykGroup, spots } from './spaces.ts'

/** A font with TrueType outlines that comes with the packages of the project (SIL Open Font License). */
const face = () =>
  readFileSync(
    new URL('../../../node_modules/pdfjs-dist/standard_fonts/LiberationSans-Regular.ttf', import.meta.url),
  )

const descriptor = (pdf: PdfText, name: string): string => {
  const bytes = face()
  const file = pdf.stream(`/Length1 ${bytes.length}`, bytes)
  return pdf.add(
    `<< /Type /FontDescriptor /FontName /${name} /Flags 32 /FontBBox [-544 -303 1302 980] /ItalicAngle 0 /Ascent 905 /Descent -212 /CapHeight 729 /StemV 80 /FontFile2 ${file} >>`,
  )
}

/** Advances of the letters 32..126 as the font has them, thousandths of the em. */
const advances = [
  ...[278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556],
  ...[556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667],
  ...[611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667],
  ...[667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500],
  ...[222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584],
]

const simple = (pdf: PdfText): string =>
  `<< /Type /Font /Subtype /TrueType /BaseFont /HALDEN+Sans /FirstChar 32 /LastChar 126 /Widths [${advances.join(' ')}] /Encoding /WinAnsiEncoding /FontDescriptor ${descriptor(pdf, 'HALDEN+Sans')} >>`

/** Pages about type. */
export const typePages = {
  'embedded type': () =>
    onePage(pdf => ({
      resources: `/ColorSpace << ${spots} >> /Font << /F ${simple(pdf)} >>`,
      content: [
        `0.2 0 0 0 k ${box(0, 0, 180, 60)}`,
        'BT /F 44 Tf /W cs 1 scn 8 76 Td (Halden) Tj ET',
        'BT /F 30 Tf 0 0.9 0.1 0 k 4 Tc 10 Tw 80 Tz 1 0 0.2 1 8 20 Tm [(EP) -300 (12 a)] TJ 10 Ts (x) Tj ET',
        'BT /F 20 Tf 0 0 0 1 k 100 20 Td 24 TL (lens) Tj T* (kit) Tj ET',
      ].join('\n'),
    })),

  'ways to show type': () =>
    onePage(pdf => ({
      resources: `/ColorSpace << ${spots} >> /Font << /F ${simple(pdf)} >>`,
      content: [
        '/H CS 1 SCN /W cs 0.6 scn 3 w 1 j',
        'BT /F 60 Tf 5 70 Td 0 Tr (A) Tj 1 Tr (B) Tj 2 Tr (C) Tj 3 Tr (D) Tj ET',
        `q BT /F 62 Tf 5 10 Td 7 Tr (MNO) Tj ET 0.8 0.1 0 0 k ${box(0, 0, 180, 40)} Q`,
      ].join('\n'),
    })),

  'type that is not opaque': () =>
    onePage(pdf => ({
      page: cmykGroup,
      resources: `/ColorSpace << ${spots} >> /ExtGState << /Half << /ca 0.5 /CA 0.5 >> >> /Font << /F ${simple(pdf)} >>`,
      content: [
        `0 0 0.3 0 k ${box(0, 0, 180, 90)} /Half gs`,
        '0.8 0 0 0 k /H CS 0.9 SCN 6 w BT /F 90 Tf 2 Tr 6 45 Td (IF) Tj ET',
        // Later type of the same text object takes the place of what it lies on.
        'BT /F 90 Tf 0 Tr -30 Tc 95 45 Td (TT) Tj 18 -6 Td 0 0.8 0 0 k (L) Tj ET',
        'BT /F 40 Tf 0 Tc 10 5 Td 0 0.5 0.5 0 k (HE) Tj 0.6 0 0 0 k (LT) Tj ET',
      ].join('\n'),
    })),

  'type by glyph numbers': () =>
    onePage(pdf => ({
      resources: `/ColorSpace << ${spots} >> /Font << /F << /Type /Font /Subtype /Type0 /BaseFont /HALDEN+Sans /Encoding /Identity-H /DescendantFonts [<< /Type /Font /Subtype /CIDFontType2 /BaseFont /HALDEN+Sans /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor ${descriptor(pdf, 'HALDEN+Sans')} /DW 600 /W [36 [667 667 722 722]] /CIDToGIDMap /Identity >>] >> >>`,
      content:
        'BT /F 56 Tf /W cs 0.9 scn 6 66 Td <0024002500260027> Tj ET\nBT /F 48 Tf /O cs 0.5 scn 6 12 Td <0044004500460047> Tj ET',
    })),

  'type of drawings': () =>
    onePage(pdf => {
      const dot = pdf.stream('', `1000 0 0 0 900 900 d1 ${circle(450, 450, 420)} f`)
      const flag = pdf.stream(
        '',
        `900 0 d0 0 0.8 0.2 0 k ${box(0, 0, 800, 400)} 0.7 0 0 0 k ${box(0, 400, 800, 400)}`,
      )
      return {
        resources: `/ColorSpace << ${spots} >> /Font << /T << /Type /Font /Subtype /Type3 /FontBBox [0 0 1000 1000] /FontMatrix [0.001 0 0 0.001 0 0] /FirstChar 97 /LastChar 98 /Widths [1000 900] /CharProcs << /dot ${dot} /flag ${flag} >> /Encoding << /Differences [97 /dot /flag] >> /Resources << >> >> >>`,
        content:
          'BT /T 50 Tf /W cs 0.8 scn 10 62 Td (aba) Tj ET\nBT /T 44 Tf /O cs 0.4 scn 10 8 Td (baa) Tj ET',
      }
    }),
}
