/** The style of the report: paper first, A4 and Letter alike, safe in black and white. It names nothing outside of itself. */
export const REPORT_STYLE: string = `
@page{margin:18mm 17mm 20mm;@bottom-right{content:"Page " counter(page) " of " counter(pages);font:9pt Georgia,serif}@bottom-left{content:"Evidence of hollows under karst ground: no proof, no clearance";font:9pt Georgia,serif}}
:root{color-scheme:light}
*{box-sizing:border-box}
body{margin:0 auto;padding:1.5rem 1rem 3rem;max-width:180mm;background:#fff;color:#1f1b16;font:11.5pt/1.42 Georgia,"Noto Serif",serif;overflow-wrap:anywhere}
h1{font-size:21pt;line-height:1.15;margin:0 0 .2rem}
h2{font-size:15pt;margin:1.6rem 0 .5rem;break-after:avoid}
h3{font-size:12.5pt;margin:1rem 0 .3rem;break-after:avoid}
p{margin:.35rem 0;orphans:3;widows:3}
.invented{border:2px solid #1f1b16;padding:.4rem .6rem;font-weight:700}
dl.answers{display:grid;grid-template-columns:minmax(9rem,13rem) 1fr;gap:.25rem 1rem;margin:.8rem 0}
dl.answers dt{font-weight:700}
dl.answers dd{margin:0}
figure{margin:.7rem 0;break-inside:avoid}
figure svg{display:block;width:100%;height:auto;max-width:148mm}
figure.map{margin:.7rem 0}
figure.map>svg{width:174mm;max-width:100%;border:1px solid #1f1b16}
figcaption{font-size:10.5pt;margin-top:.25rem}
.upright{transform:scale(var(--upright,1))}
.figures{display:grid;grid-template-columns:1fr 1fr;gap:0 1.2rem}
.legend{display:grid;grid-template-columns:repeat(3,1fr);gap:0 1rem;font-size:9.5pt;margin-top:.4rem}
.legend ul,.plain{list-style:none;margin:0;padding:0}
.legend li{display:flex;gap:.5rem;align-items:center;min-height:1.35rem}
.legend p{margin:.3rem 0 0;font-weight:700}
.legend>div{break-inside:avoid}
.sample{flex:none;line-height:0;width:34px}
.sample svg{width:34px;height:20px}
.plain li{padding:.25rem 0;border-bottom:1px solid #b9b09a;break-inside:avoid}
table{border-collapse:collapse;width:100%;font-size:10.5pt;margin:.5rem 0}
caption{text-align:left;font-weight:700;padding:.2rem 0}
th,td{text-align:left;vertical-align:top;padding:.2rem .5rem .2rem 0;border-bottom:1px solid #b9b09a}
thead{display:table-header-group}
tr{break-inside:avoid}
.sure{font-style:italic}
.zone{border-top:1px solid #1f1b16;margin-top:.9rem}
.sign td{height:2.4rem}
.table{overflow-x:auto}
.table th,.table td{overflow-wrap:break-word}
@media screen and (max-width:40rem){.table td:last-child{min-width:12rem}dl.answers,.legend,.figures{grid-template-columns:1fr}dl.answers dt{margin-top:.4rem}}
@media print{body{padding:0;max-width:none;font-size:10.5pt}h2{margin-top:1.2rem}.table{overflow:visible}figure.map{break-inside:auto}figure.map>svg{break-inside:avoid;break-after:avoid}}
`;
