"""The style of the HTML sheet: light and dark on a screen, black on white on paper, one column on a phone."""

STYLE = """
:root{color-scheme:light dark;--paper:#fdfcf9;--ink:#1b1d1f;--soft:#565b60;--rule:#b9bcbf;--fill:#eceae4;
--metal:#d9d8d2;--accent:#8a3b00;--warn:#fff0d0;--ghost:#6b7076;--hole:#fdfcf9}
@media (prefers-color-scheme:dark){:root{--paper:#17191b;--ink:#eceae4;--soft:#b1b5b8;--rule:#54595d;
--fill:#24282b;--metal:#3b4146;--accent:#ffb27a;--warn:#3a2c10;--ghost:#a3a8ad;--hole:#17191b}}
*{box-sizing:border-box}
html{background:var(--paper);color:var(--ink);font:16px/1.45 system-ui,"Segoe UI","DejaVu Sans",sans-serif;
-webkit-text-size-adjust:100%}
body{margin:0 auto;max-width:64rem;padding:1rem;overflow-wrap:anywhere}
h1{font-size:1.7rem;line-height:1.15;margin:0 0 .6rem}
h2{font-size:1.25rem;margin:1.6rem 0 .5rem;padding-bottom:.2rem;border-bottom:2px solid var(--ink)}
h3{font-size:1.2rem;margin:0 0 .5rem;padding:.25rem .6rem}
h4{font-size:1rem;margin:0}
p{margin:.35rem 0}
.facts{display:grid;grid-template-columns:repeat(auto-fit,minmax(15rem,1fr));gap:.15rem 1.2rem;margin:0}
.facts div{display:flex;gap:.5rem;min-width:0}
.facts dt{color:var(--soft);flex:none;min-width:6.4rem}
.facts dd{margin:0;font-weight:600;min-width:0;flex:1}
.pen{display:block;min-width:2.5rem;min-height:1.2em;border-bottom:1px dotted var(--soft)}
td .pen{border:0}
.note{color:var(--soft);font-size:.92rem}
.caution,.warning{border:2px solid var(--accent);border-left-width:.6rem;
padding:.4rem .7rem;background:var(--warn)}
.corners{display:grid;grid-template-columns:1fr 1fr;gap:.8rem;margin:.7rem 0}
.corner{border:2px solid var(--ink);min-width:0}
.left h3{background:var(--ink);color:var(--paper);text-align:left}
.left h3::before{content:"\\25C0\\00A0"}
.right h3{background:var(--fill);color:var(--ink);text-align:right;border-bottom:2px solid var(--ink)}
.right h3::after{content:"\\00A0\\25B6"}
.bush{display:flex;gap:.4rem;align-items:center;padding:.2rem .4rem;min-width:0}
.bush+.bush{border-top:1px solid var(--rule)}
.right .bush{flex-direction:row-reverse}
.bush svg{flex:0 1 62mm;width:62mm;min-width:0;height:auto}
.said{flex:1 1 7rem;min-width:7rem}
.do{font-size:1.25rem;font-weight:700;margin:.1rem 0}
.scroll{overflow-x:auto;margin:.6rem 0}
table{border-collapse:collapse;width:100%;font-variant-numeric:tabular-nums}
caption{text-align:left;font-weight:700;padding:.2rem 0}
th,td{overflow-wrap:break-word;
border:1px solid var(--rule);padding:.25rem .45rem;text-align:left;vertical-align:middle;min-width:3.4rem}
thead th{background:var(--fill);font-size:.88rem;vertical-align:bottom}
tbody th{font-weight:500;min-width:7rem}
.box{border:1.5px solid var(--ink);min-width:4.2rem}
data{white-space:nowrap}
.steps,.ticks{list-style:none;margin:.5rem 0;padding:0;counter-reset:step}
.steps li,.ticks li{display:flex;gap:.6rem;padding:.22rem 0;break-inside:avoid}
.steps li{counter-increment:step}
.steps li::before{content:counter(step);font-weight:700;min-width:1.5rem;text-align:right}
.tick{flex:none;width:1.05rem;height:1.05rem;border:1.5px solid var(--ink);margin-top:.2rem}
footer{color:var(--soft);font-size:.85rem;margin-top:1.5rem;
border-top:1px solid var(--rule);padding-top:.4rem}
svg circle,svg polyline,svg polygon{fill:none;stroke:var(--ink);stroke-width:.3}
svg text{fill:var(--ink);font-size:2.7px;font-family:system-ui,"Segoe UI","DejaVu Sans",sans-serif}
svg .clock{fill:var(--soft)}
svg .state{font-weight:700}
svg .seat{fill:var(--fill)}
svg .bush{fill:var(--metal)}
svg .centre{stroke:var(--soft);stroke-width:.2}
svg .after_hole{fill:var(--hole);fill-opacity:.75;stroke-width:.6}
svg .before_hole{stroke:var(--ghost);stroke-width:.45;stroke-dasharray:1.2 .8}
svg .after_mark{fill:var(--ink)}
svg .before_mark{stroke:var(--ghost);stroke-width:.35;stroke-dasharray:.9 .5}
svg .turn{stroke:var(--accent);stroke-width:.7}
svg .turn_head,svg .compass_head{fill:var(--accent);stroke:none}
svg .compass_head{fill:var(--ink)}
@media (max-width:44rem){.corners{grid-template-columns:1fr}.bush svg{flex-basis:56mm}body{padding:.7rem}
.facts{grid-template-columns:1fr}}
@media (max-width:25rem){.bush,.right .bush{flex-direction:column;align-items:stretch}
.bush svg{width:100%;max-width:70mm;
flex:none;align-self:center}}
@media screen and (max-width:44rem){.many,.many caption,.many tbody,.many tr,.many th{display:block}
.many thead{position:absolute;clip-path:inset(50%);height:1px;width:1px;overflow:hidden}
.many tr{margin:.5rem 0;border:1px solid var(--rule)}
.many tbody th{border:0;font-weight:700;background:var(--fill)}
.many td{display:flex;gap:1rem;border:0;border-top:1px solid var(--rule)}
.many td::before{content:attr(data-label);color:var(--soft);flex:1 1 45%}
.many td>span{flex:1 1 55%}.many td .pen{border-bottom:1px dotted var(--ink)}}
@page{size:auto;margin:12mm}
@media print{
:root{color-scheme:light;--paper:#fff;--ink:#000;--soft:#333;--rule:#888;--fill:#eee;--metal:#ddd;--accent:#000;
--warn:#fff;--ghost:#444;--hole:#fff}
html{font-size:9.2pt;line-height:1.3;background:#fff}
body{max-width:none;padding:0}
h1{font-size:16pt}h2{font-size:12.5pt;margin:3mm 0 1.5mm;break-after:avoid}
.page{break-before:page}
.corner,.bush,tr,.caution,.warning,.scroll{break-inside:avoid}
.scroll{overflow:visible;margin:1.5mm 0}
.corners{grid-template-columns:1fr 1fr;gap:3mm;margin:2mm 0}
.bush,.right .bush{flex-direction:row;align-items:center;gap:1mm;padding:.5mm 1mm}
.right .bush{flex-direction:row-reverse}
.bush svg{flex:0 0 62mm;width:62mm}
.said{min-width:0;flex:1 1 0}
.facts{grid-template-columns:1fr 1fr}
table{table-layout:fixed}
th,td{min-width:0;padding:.6mm 1mm}tbody th{min-width:0}.box{height:5.8mm;min-width:0}
.pen{min-width:0}.steps li,.ticks li{padding:.25mm 0}.steps,.ticks{margin:1mm 0}.note,p{margin:.8mm 0}
.note{font-size:8.6pt}
html{-webkit-print-color-adjust:exact;print-color-adjust:exact}
}
""" + "".join(f".w{n}{{width:{n}%}}" for n in range(5, 61))
