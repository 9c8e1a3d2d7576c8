import { onePage } from '../pdf-write.ts'
import { box, circle, cmykGroup, deviceN, separation, spots } from './spaces.ts'

const step = (group: string, type = ''): string =>
  `/GTS_Metadata << /GTS_ProcStepsGroup /${group} ${type === '' ? '' : `/GTS_ProcStepsType /${type}`} >>`

/** Pages about the page itself: layers, boxes, forms; and one with all at once. */
export const wholePages = {
  'layers with steps': () =>
    onePage(pdf => {
      const layer = (name: string, more: string) => pdf.add(`<< /Type /OCG /Name (${name}) ${more} >>`)
      const art = layer('Art', '')
      const white = layer('White', step('White'))
      const die = layer('Die', `${step('Structural', 'Cutting')} /Usage << /Print << /PrintState /OFF >> >>`)
      const hologram = layer('Holo comet', step('Positions', 'Hologram'))
      const off = layer('Draft', '')
      return {
        catalog: `/OCProperties << /OCGs [${art} ${white} ${die} ${hologram} ${off}] /D << /BaseState /ON /OFF [${off}] /Order [${die} ${hologram} (Print) [${art} ${white}] ${off}] >> >>`,
        resources: `/ColorSpace << ${spots} /D ${separation('Dieline', [0, 1, 0, 0])} >> /Properties << /A ${art} /W ${white} /D ${die} /P ${hologram} /Off ${off} >> /ExtGState << /Over << /OP true /op true /OPM 1 >> >>`,
        content: [
          `/OC /W BDC /W cs 1 scn ${box(20, 20, 100, 60)} EMC`,
          `/Over gs /OC /A BDC 0.7 0.2 0 0 k ${box(10, 10, 90, 90)} EMC`,
          `/OC /P BDC /H cs 1 scn ${circle(120, 60, 30)} f EMC`,
          '/OC /D BDC /D CS 1 SCN 2 w 5 5 170 110 re S EMC',
          `/OC /Off BDC 0 0 0 1 k ${box(0, 0, 180, 120)} EMC`,
        ].join('\n'),
      }
    }),

  'turned page with boxes': () =>
    onePage(() => ({
      page: '/MediaBox [-20 -10 140 190] /CropBox [-10 -5 130 185] /BleedBox [0 0 120 180] /TrimBox [10 10 110 170] /Rotate 90 /UserUnit 1.5',
      resources: `/ColorSpace << ${spots} >>`,
      content: [
        `0.4 0 0 0 k ${box(-20, -10, 160, 200)}`,
        `/W cs 0.8 scn ${box(10, 10, 100, 40)} 0 0.8 0 0 k ${box(10, 10, 20, 160)}`,
        `/H cs 1 scn ${circle(80, 120, 25)} f`,
      ].join('\n'),
    })),

  forms: () =>
    onePage(pdf => {
      const leaf = pdf.stream(
        `/Type /XObject /Subtype /Form /BBox [0 0 30 30] /Matrix [1 0.2 -0.2 1 5 0] /Resources << /ColorSpace << ${spots} >> >>`,
        `/W cs 0.7 scn ${box(-10, -10, 60, 60)} 0.6 0 0.6 0 k ${circle(15, 15, 9)} f`,
      )
      const branch = pdf.stream(
        `/Type /XObject /Subtype /Form /BBox [0 0 100 100] /Resources << /XObject << /L ${leaf} >> >>`,
        `q 1.2 0 0 1.2 10 10 cm /L Do Q q 0.8 0 0 -0.8 50 90 cm /L Do Q ${box(70, 5, 60, 20)}`,
      )
      return {
        resources: `/XObject << /B ${branch} >>`,
        content: '0 0.5 0 0.2 k q 1 0 0 1 5 5 cm /B Do Q\nq 0 0.7 -0.7 0 170 20 cm /B Do Q',
      }
    }),

  'everything at once': () =>
    onePage(pdf => {
      const ramp = `<< /ShadingType 2 /ColorSpace ${deviceN(pdf, ['White', 'Magenta'])} /Coords [0 0 180 0] /Function << /FunctionType 2 /Domain [0 1] /C0 [1 0] /C1 [0 0.8] /N 1 >> /Extend [true true] >>`
      const tile = pdf.stream(
        `/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 12 12] /XStep 12 /YStep 12 /Resources << /ColorSpace << ${spots} >> >>`,
        `/O cs 0.9 scn ${box(0, 0, 6, 6)}`,
      )
      const group = pdf.stream(
        `/Type /XObject /Subtype /Form /BBox [0 0 180 120] /Group << /S /Transparency /I true >> /Resources << /ColorSpace << ${spots} >> >>`,
        `/H cs 1 scn ${circle(60, 60, 40)} f 0 0 0 0.6 k ${box(40, 50, 100, 20)}`,
      )
      const mask = pdf.stream(
        '/Type /XObject /Subtype /Form /BBox [0 0 180 120] /Group << /S /Transparency /CS /DeviceGray /I true >> /Resources << >>',
        `0.5 g ${box(0, 0, 180, 120)} 1 g ${circle(100, 60, 40)} f`,
      )
      const art = pdf.add('<< /Type /OCG /Name (Art) >>')
      return {
        page: cmykGroup,
        catalog: `/OCProperties << /OCGs [${art}] /D << /Order [${art}] >> >>`,
        resources: `/ColorSpace << ${spots} >> /Shading << /S ${ramp} >> /Pattern << /T ${tile} >> /XObject << /G ${group} >> /Properties << /A ${art} >> /ExtGState << /Over << /OP true /op true /OPM 1 >> /Not << /OP false /op false >> /Half << /ca 0.5 >> /One << /ca 1 >> /Mask << /SMask << /S /Luminosity /G ${mask} >> >> /Mul << /BM /Multiply >> >>`,
        content: [
          'q 0 60 180 60 re W n /S sh Q',
          `/OC /A BDC /Pattern cs /T scn ${box(10, 10, 70, 60)} EMC`,
          `q /Over gs /W cs 0.5 scn ${box(60, 5, 60, 70)} Q`,
          'q /Half gs /G Do Q',
          `q /Mask gs 0.8 0 0 0 k ${box(90, 30, 80, 70)} Q`,
          `q /Mul gs 0.2 0.3 0 0 k ${box(120, 5, 40, 60)} Q`,
          '0 0 0 1 K 3 w [8 4] 0 d 5 115 m 175 5 l S',
        ].join('\n'),
      }
    }),
}
