import { themeProperties } from '../figures/site-map-look';

/* Colours of paper by day and by night, as the tokens of the app have them. */
const DAY =
  '--paper:#fbf7ec;--paper-deep:#f1ead8;--ink:#2b2620;--ink-soft:#5c5346;--rule:#d8ceb6;--rule-strong:#8b8069;--accent:#5b3a8c;--on-accent:#fbf7ec;--serious:#8e1f1f;--map-paper:#f6f1e4;--map-grid:#e7dfca;';
const NIGHT =
  '--paper:#24211c;--paper-deep:#2f2b25;--ink:#efe7d6;--ink-soft:#bdb29c;--rule:#45403a;--rule-strong:#8b8069;--accent:#c4a6f2;--on-accent:#24211c;--serious:#ff9c8f;--map-paper:#1d1b17;--map-grid:#2b2822;';

/** The style of the planner's page. It names nothing outside of itself. */
export const pageStyle = (): string => `
:root{color-scheme:light dark;${DAY}${themeProperties('light')}}
@media (prefers-color-scheme:dark){:root{${NIGHT}${themeProperties('dark')}}}
@media print{:root{color-scheme:light;${DAY}${themeProperties('light')}}.bar,.search,#map-help,.skip,.show,#meaning,.legend input,.legend>div:has(input:not(:checked)){display:none!important}.legend>div,.map-block,h2{break-inside:avoid}h2,h3{break-after:avoid}details::details-content{content-visibility:visible;block-size:auto}}
*{box-sizing:border-box}
html{scroll-behavior:auto}
body{margin:0;background:var(--paper);color:var(--ink);font:1.0625rem/1.45 Optima,Candara,"Segoe UI","Noto Sans","DejaVu Sans",sans-serif;overflow-wrap:anywhere}
h1,h2,h3{font-family:"Iowan Old Style","Palatino Linotype",Palatino,"URW Palladio L","Noto Serif",Georgia,serif;line-height:1.2;margin:0 0 .4rem}
h1{font-size:1.5rem}h2{font-size:1.3rem;margin-top:2rem}h3{font-size:1.1rem}
a{color:var(--accent)}
.skip{position:absolute;left:-999rem}.skip:focus{left:.5rem;top:.5rem;background:var(--paper);padding:.6rem;z-index:3}
header{padding:.75rem 1rem 0}
header p{margin:.1rem 0;color:var(--ink-soft)}
header .invented{margin:-.75rem -1rem .75rem;padding:.4rem 1rem;background:var(--ink);color:var(--paper);font-weight:700}
main{padding:0 1rem 3rem;max-width:100rem}
.first{display:grid;gap:.75rem}
dl.answers{margin:.5rem 0 0}
dl.answers dt{font-weight:700;margin-top:.45rem}
dl.answers dd{margin:0}
.map-block{display:flex;flex-direction:column;min-width:0}
.bar{display:flex;flex-wrap:wrap;gap:.4rem;align-items:center;margin-bottom:.4rem}
button,.switch,input[type=search]{font:inherit;color:inherit;min-height:44px}
button{min-width:44px;padding:0 .7rem;background:var(--paper-deep);border:1px solid var(--rule-strong);border-radius:4px;cursor:pointer}
button[aria-pressed=true]{background:var(--accent);color:var(--on-accent)}
.switch{display:inline-flex;align-items:center;gap:.5rem;padding-right:.4rem;cursor:pointer}
input[type=checkbox]{width:22px;height:22px;accent-color:var(--accent);flex:none}
#map{position:relative;border:1px solid var(--rule-strong);background:var(--map-paper);overflow:hidden;height:60vh;min-height:300px}
#map:focus-visible,button:focus-visible,a:focus-visible,input:focus-visible,summary:focus-visible{outline:3px solid var(--accent);outline-offset:2px}
#map svg{display:block;width:100%;height:100%}
#map.live{touch-action:none;cursor:grab}
#map.live [data-ask]{cursor:help}
#map .crowded{visibility:hidden}
#map .upright{transform:scale(var(--upright,1))}
#map .asked{stroke:var(--accent);stroke-width:4px}
#map g.asked path{stroke:var(--accent)}
#map [role=button]:focus{outline:none;stroke:var(--accent);stroke-width:4px}
#cross{position:absolute;left:50%;top:50%;width:22px;height:22px;margin:-11px;pointer-events:none;display:none;background:linear-gradient(var(--accent),var(--accent)) center/2px 100% no-repeat,linear-gradient(var(--accent),var(--accent)) center/100% 2px no-repeat}
#map:focus-visible #cross{display:block}
#measured-path{fill:none;stroke:var(--accent);stroke-width:3px}
#meaning{margin:.4rem 0 0;padding:.6rem .8rem;background:var(--paper-deep);border-left:4px solid var(--accent)}
#meaning:empty{display:none}
#meaning p{margin:0 0 .3rem}
.legend{display:grid;grid-template-columns:repeat(auto-fill,minmax(17rem,1fr));gap:.2rem 1.5rem}
.legend ul,.plain{list-style:none;padding:0;margin:0}
.legend li{display:flex;gap:.6rem;align-items:center;min-height:1.8rem;padding-left:.3rem}
.legend .sample{flex:none;line-height:0}
.plain li{padding:.35rem 0;border-bottom:1px solid var(--rule)}
.zone{padding:.8rem 0;border-bottom:1px solid var(--rule)}
.zone p{margin:.2rem 0;max-width:65rem}
.sure{color:var(--ink-soft)}
.search{display:flex;flex-wrap:wrap;gap:.5rem;align-items:center;margin:.5rem 0}
.search input{padding:0 .6rem;border:1px solid var(--rule-strong);border-radius:4px;background:var(--paper);min-width:14rem}
summary{min-height:44px;display:flex;align-items:center;cursor:pointer;font-weight:700}
summary::before{content:"+";width:1.2rem}details[open]>summary::before{content:"−"}
.text p,.text ul{max-width:65rem}
[hidden]{display:none!important}
${['zones', 'lines', 'segments', 'features', 'setbacks', 'corridors', 'unsurveyed']
  .map((layer) => `body:has(#show-${layer}:not(:checked)) .layer-${layer}{display:none}`)
  .join('\n')}
@media (min-width:60rem){
.first{grid-template-columns:21rem minmax(0,1fr);column-gap:1.5rem}
#map{height:calc(100vh - 12rem);min-height:24rem}
.first{grid-template-rows:auto 1fr}
.map-block{grid-column:2;grid-row:1/3}
#meaning{grid-column:1;align-self:start;max-height:24rem;overflow:auto}
h1{font-size:1.8rem}}
`;
