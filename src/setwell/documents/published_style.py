"""The look of published pages: one short sheet inside each page, so that a page is whole alone."""

STYLE = """
:root{color-scheme:light dark;--ink:#1c2426;--paper:#fff;--line:#c5cdca;--soft:#4d5a5a;
--accent:#0b5f55;--warn:#fff3d6;--warn-edge:#8a5a00;--stop:#fde3e0;--stop-edge:#a3180f}
@media(prefers-color-scheme:dark){:root{--ink:#e8eeec;--paper:#161c1d;--line:#42504f;--soft:#b2bfbc;
--accent:#7fd1c1;--warn:#3a2e10;--warn-edge:#e0b355;--stop:#431713;--stop-edge:#ff9a8f}}
*{box-sizing:border-box}
body{margin:0 auto;max-width:52rem;padding:1rem;font:1rem/1.5 system-ui,sans-serif;
color:var(--ink);background:var(--paper);overflow-wrap:anywhere}
h1{font-size:1.8rem;line-height:1.2;margin:.5rem 0}h2{font-size:1.2rem;margin:1.5rem 0 .5rem}
a{color:var(--accent)}p,li{max-width:44rem}li{margin:.25rem 0}
.aside{color:var(--soft);font-size:.9rem}
table{border-collapse:collapse;width:100%}th,td{text-align:start;vertical-align:top;
padding:.3rem .7rem .3rem 0;border-bottom:1px solid var(--line)}
.weight{white-space:nowrap;font-variant-numeric:tabular-nums;font-weight:600}
.us{white-space:nowrap;color:var(--soft)}.scroll{overflow-x:auto}
.note{background:var(--warn);border-left:5px solid var(--warn-edge);padding:.5rem 1rem;
margin:1rem 0}
.stop{background:var(--stop);border-color:var(--stop-edge)}
.lines th:nth-child(-n+2){width:7.5rem}.point{color:var(--accent);white-space:nowrap}
body:has(.chart){max-width:90rem}
.chart{min-width:84rem}.chart th{overflow-wrap:normal;min-width:8rem}
.chart th[scope=row]{position:sticky;left:0;background:var(--paper)}
img{max-width:100%;height:auto;border-radius:8px}
footer{border-top:1px solid var(--line);margin-top:2rem;padding-top:.5rem}
@media print{body{max-width:none;font-size:10pt;padding:0}a{color:inherit;text-decoration:none}
.screen{display:none}section,tr,li{break-inside:avoid}}
"""
