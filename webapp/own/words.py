"""The words recipes are written in, rarest first, for packing a toy.

Changing them makes every address of a toy of one's own unreadable: add none, take none away. (The
test of a packed toy from before guards it.)
"""

from __future__ import annotations

WORDS = (
    b'"kind":"buttons""kind":"embroidered""slant":"cone""tip":"disc""dome""pear","top":"strip"'
    b'"seat":"neck""seat":"joined""legs":{"part":"","chain":"brim":"oval""cap":"points":[[0,0],['
    b'"with":[""],"every":"round":"times":"lies_flat":true"sink":"roll":"height_word":"turn":'
    b'"line":"A toy of one\'s own.","level":"intermediate""complex""basic""level":"easy","rules":["'
    b"muzzle.nose.eye.cheek.scarf.foot.wing.belly.neck.width = 0.5 * sqrt("
    b"limb_length * limb_thickness * ear_size * head_to_body * cheek_fullness * "
    b'toy.height = body.height + head.height","tail.leg.arm.ear.length = 0.'
    b'opening = 0.6 * body.width","colours":{"main":{"name":"","hex":"#"}},"sliders":{"height":'
    b'{"low":50,"high":500,"default":150},"cheek_fullness":"limb_thickness":{"low":0.8,"high":1.3,'
    b'"default":1}},"dimensions":{"body.height":80,"body.width":70,"body.opening":38,"head.height":'
    b'"bulges":[{"label":"Bulge","begin":0.35,"end":0.65,"arc":0.25,"depth":"0.06 * "cheeks":{'
    b'"eyes":{"on":"head","along":0.5,"around":33,"diameter":"0.12 * head.width"},"marks":[{'
    b'"label":"Blush","Mouth","Brows","Nose","on":"head","along":0.6,"around":0,"width":"0.1 * '
    b'head.width","height":"0.62 * ","colour":"main","kind":"line","pair":true}],"parts":[{'
    b'"name":"ear","label":"Ears","shape":"outline""ear""ball""tube","lengths":{"length":"'
    b'.length","width":".width","opening":".opening","widest":0.6,"flatness":0.3},"ring":5,'
    b'"colours":[{"colour":"main"},{"begin":0.3,"colour":"}],"filling":"light","place":{"seat":'
    b'"ground"}},{"name":"head","label":"Head","shape":"egg","lengths":{"height":"head.height",'
    b'"width":"head.width","widest":0.54,"opening":"head.opening"},"colours":[{"colour":"main"}],'
    b'"filling":"firm","place":{"seat":"opening","on":"body"}},{"name":"arm","label":"Arms",'
    b'"shape":"tube","lengths":{"length":"arm.length","width":"arm.width"},"colours":[{"colour":'
    b'"main"}],"filling":"none","place":{"seat":"surface","on":"body","along":0.5,"around":90,'
    b'"tilt":0,"swing":90,"pair":true}}]}'
)
