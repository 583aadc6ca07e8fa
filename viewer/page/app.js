/*!
@preact/signals: Copyright (c) 2022-present Preact Team
@preact/signals-core: Copyright (c) 2022-present Preact Team
preact: Copyright (c) 2015-present Jason Miller
The MIT License (MIT) Permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated documentation files (the "Software"), to deal in the Software without restriction, including without limitation the rights to use, copy, modify, merge, publish, distribute, sublicense, and/or sell copies of the Software, and to permit persons to whom the Software is furnished to do so, subject to the following conditions: The above copyright notice and this permission notice shall be included in all copies or substantial portions of the Software. THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND, EXPRESS OR IMPLIED, INCLUDING BUT NOT LIMITED TO THE WARRANTIES OF MERCHANTABILITY, FITNESS FOR A PARTICULAR PURPOSE AND NONINFRINGEMENT. IN NO EVENT SHALL THE AUTHORS OR COPYRIGHT HOLDERS BE LIABLE FOR ANY CLAIM, DAMAGES OR OTHER LIABILITY, WHETHER IN AN ACTION OF CONTRACT, TORT OR OTHERWISE, ARISING FROM, OUT OF OR IN CONNECTION WITH THE SOFTWARE OR THE USE OR OTHER DEALINGS IN THE SOFTWARE.

d3-array: Copyright 2010-2026 Mike Bostock
d3-color: Copyright 2010-2026 Mike Bostock
d3-format: Copyright 2010-2026 Mike Bostock
d3-interpolate: Copyright 2010-2026 Mike Bostock
d3-path: Copyright 2015-2026 Mike Bostock
d3-scale: Copyright 2010-2026 Mike Bostock
d3-shape: Copyright 2010-2026 Mike Bostock
d3-time: Copyright 2010-2026 Mike Bostock
d3-time-format: Copyright 2010-2026 Mike Bostock
internmap: Copyright 2021 Mike Bostock
Permission to use, copy, modify, and/or distribute this software for any purpose with or without fee is hereby granted, provided that the above copyright notice and this permission notice appear in all copies. THE SOFTWARE IS PROVIDED "AS IS" AND THE AUTHOR DISCLAIMS ALL WARRANTIES WITH REGARD TO THIS SOFTWARE INCLUDING ALL IMPLIED WARRANTIES OF MERCHANTABILITY AND FITNESS. IN NO EVENT SHALL THE AUTHOR BE LIABLE FOR ANY SPECIAL, DIRECT, INDIRECT, OR CONSEQUENTIAL DAMAGES OR ANY DAMAGES WHATSOEVER RESULTING FROM LOSS OF USE, DATA OR PROFITS, WHETHER IN AN ACTION OF CONTRACT, NEGLIGENCE OR OTHER TORTIOUS ACTION, ARISING OUT OF OR IN CONNECTION WITH THE USE OR PERFORMANCE OF THIS SOFTWARE.

three: Copyright © 2010-2025 three.js authors
Permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated documentation files (the "Software"), to deal in the Software without restriction, including without limitation the rights to use, copy, modify, merge, publish, distribute, sublicense, and/or sell copies of the Software, and to permit persons to whom the Software is furnished to do so, subject to the following conditions: The above copyright notice and this permission notice shall be included in all copies or substantial portions of the Software. THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND, EXPRESS OR IMPLIED, INCLUDING BUT NOT LIMITED TO THE WARRANTIES OF MERCHANTABILITY, FITNESS FOR A PARTICULAR PURPOSE AND NONINFRINGEMENT. IN NO EVENT SHALL THE AUTHORS OR COPYRIGHT HOLDERS BE LIABLE FOR ANY CLAIM, DAMAGES OR OTHER LIABILITY, WHETHER IN AN ACTION OF CONTRACT, TORT OR OTHERWISE, ARISING FROM, OUT OF OR IN CONNECTION WITH THE SOFTWARE OR THE USE OR OTHER DEALINGS IN THE SOFTWARE.
*/
(function(){"use strict";var jr,$e,hc,uc,Un,dc,fc,pc,ya,Zr,dr,mc,Ea,Ta,Aa,Kr={},Jr=[],Ff=/acit|ex(?:s|g|n|p|$)|rph|grid|ows|mnc|ntw|ine[ch]|zoo|^ord|itera/i,Qr=Array.isArray;function _n(n,e){for(var t in e)n[t]=e[t];return n}function Ra(n){n&&n.parentNode&&n.parentNode.removeChild(n)}function gc(n,e,t){var i,r,s,a={};for(s in e)s=="key"?i=e[s]:s=="ref"?r=e[s]:a[s]=e[s];if(arguments.length>2&&(a.children=arguments.length>3?jr.call(arguments,2):t),typeof n=="function"&&n.defaultProps!=null)for(s in n.defaultProps)a[s]===void 0&&(a[s]=n.defaultProps[s]);return es(n,a,i,r,null)}function es(n,e,t,i,r){var s={type:n,props:e,key:t,ref:i,__k:null,__:null,__b:0,__e:null,__c:null,constructor:void 0,__v:r??++hc,__i:-1,__u:0};return r==null&&$e.vnode!=null&&$e.vnode(s),s}function Et(n){return n.children}function fr(n,e){this.props=n,this.context=e}function Zn(n,e){if(e==null)return n.__?Zn(n.__,n.__i+1):null;for(var t;e<n.__k.length;e++)if((t=n.__k[e])!=null&&t.__e!=null)return t.__e;return typeof n.type=="function"?Zn(n):null}function Of(n){if(n.__P&&n.__d){var e=n.__v,t=e.__e,i=[],r=[],s=_n({},e);s.__v=e.__v+1,$e.vnode&&$e.vnode(s),Ca(n.__P,s,e,n.__n,n.__P.namespaceURI,32&e.__u?[t]:null,i,t??Zn(e),!!(32&e.__u),r),s.__v=e.__v,s.__.__k[s.__i]=s,yc(i,s,r),e.__e=e.__=null,s.__e!=t&&_c(s)}}function _c(n){if((n=n.__)!=null&&n.__c!=null)return n.__e=n.__c.base=null,n.__k.some(function(e){if(e!=null&&e.__e!=null)return n.__e=n.__c.base=e.__e}),_c(n)}function vc(n){(!n.__d&&(n.__d=!0)&&Un.push(n)&&!ts.__r++||dc!=$e.debounceRendering)&&((dc=$e.debounceRendering)||fc)(ts)}function ts(){try{for(var n,e=1;Un.length;)Un.length>e&&Un.sort(pc),n=Un.shift(),e=Un.length,Of(n)}finally{Un.length=ts.__r=0}}function xc(n,e,t,i,r,s,a,o,l,c,u){var d,h,p,g,_,m,f=i&&i.__k||Jr,E=e.length;for(l=Bf(t,e,f,l,E),d=0;d<E;d++)(p=t.__k[d])!=null&&(h=p.__i!=-1&&f[p.__i]||Kr,p.__i=d,m=Ca(n,p,h,r,s,a,o,l,c,u),g=p.__e,p.ref&&h.ref!=p.ref&&(h.ref&&Pa(h.ref,null,p),u.push(p.ref,p.__c||g,p)),_==null&&g!=null&&(_=g),4&p.__u?(l=Sc(p,l,n),h.__e&&(h.__e=null)):typeof p.type=="function"&&m!==void 0?l=m:g&&(l=g.nextSibling),p.__u&=-7);return t.__e=_,l}function Bf(n,e,t,i,r){var s,a,o,l,c,u=t.length,d=u,h=0;for(n.__k=new Array(r),s=0;s<r;s++)(a=e[s])!=null&&typeof a!="boolean"&&typeof a!="function"?(typeof a=="string"||typeof a=="number"||typeof a=="bigint"||a.constructor==String?a=n.__k[s]=es(null,a,null,null,null):Qr(a)?a=n.__k[s]=es(Et,{children:a},null,null,null):a.constructor===void 0&&a.__b>0?a=n.__k[s]=es(a.type,a.props,a.key,a.ref?a.ref:null,a.__v):n.__k[s]=a,l=s+h,a.__=n,a.__b=n.__b+1,o=null,(c=a.__i=zf(a,t,l,d))!=-1&&(d--,(o=t[c])&&(o.__u|=2)),o==null||o.__v==null?(c==-1&&(r>u?h--:r<u&&h++),typeof a.type!="function"&&(a.__u|=4)):c!=l&&(c==l-1?h--:c==l+1?h++:(c>l?h--:h++,a.__u|=4))):n.__k[s]=null;if(d)for(s=0;s<u;s++)(o=t[s])!=null&&(2&o.__u)==0&&(o.__e==i&&(i=Zn(o)),Tc(o,o));return i}function Sc(n,e,t){var i,r;if(typeof n.type=="function"){for(i=n.__k,r=0;i&&r<i.length;r++)i[r]&&(i[r].__=n,e=Sc(i[r],e,t));return e}n.__e!=e&&(e&&n.type&&!e.parentNode&&(e=Zn(n)),e=t.insertBefore(n.__e,e||null));do e=e&&e.nextSibling;while(e!=null&&e.nodeType==8);return e}function zf(n,e,t,i){var r,s,a,o=n.key,l=n.type,c=e[t],u=c!=null&&(2&c.__u)==0;if(c===null&&o==null||u&&o==c.key&&l==c.type)return t;if(i>(u?1:0)){for(r=t-1,s=t+1;r>=0||s<e.length;)if((c=e[a=r>=0?r--:s++])!=null&&(2&c.__u)==0&&o==c.key&&l==c.type)return a}return-1}function bc(n,e,t){e[0]=="-"?n.setProperty(e,t??""):n[e]=t==null?"":typeof t!="number"||Ff.test(e)?t:t+"px"}function ns(n,e,t,i,r){var s,a;e:if(e=="style")if(typeof t=="string")n.style.cssText=t;else{if(typeof i=="string"&&(n.style.cssText=i=""),i)for(e in i)t&&e in t||bc(n.style,e,"");if(t)for(e in t)i&&t[e]==i[e]||bc(n.style,e,t[e])}else if(e[0]=="o"&&e[1]=="n")s=e!=(e=e.replace(mc,"$1")),a=e.toLowerCase(),e=a in n||e=="onFocusOut"||e=="onFocusIn"?a.slice(2):e.slice(2),n.l||(n.l={}),n.l[e+s]=t,t?i?t[dr]=i[dr]:(t[dr]=Ea,n.addEventListener(e,s?Aa:Ta,s)):n.removeEventListener(e,s?Aa:Ta,s);else{if(r=="http://www.w3.org/2000/svg")e=e.replace(/xlink(H|:h)/,"h").replace(/sName$/,"s");else if(e!="width"&&e!="height"&&e!="href"&&e!="list"&&e!="form"&&e!="tabIndex"&&e!="download"&&e!="rowSpan"&&e!="colSpan"&&e!="role"&&e!="popover"&&e in n)try{n[e]=t??"";break e}catch{}typeof t=="function"||(t==null||t===!1&&e[4]!="-"?n.removeAttribute(e):n.setAttribute(e,e=="popover"&&t==1?"":t))}}function Mc(n){return function(e){if(this.l){var t=this.l[e.type+n];if(e[Zr]==null)e[Zr]=Ea++;else if(e[Zr]<t[dr])return;return t($e.event?$e.event(e):e)}}}function Ca(n,e,t,i,r,s,a,o,l,c){var u,d,h,p,g,_,m,f,E,y,M,C,A,D,F,w,b=e.type;if(e.constructor!==void 0)return null;128&t.__u&&(l=!!(32&t.__u),s=[o=e.__e=t.__e]),(u=$e.__b)&&u(e);e:if(typeof b=="function"){d=a.length;try{if(E=e.props,y=b.prototype&&b.prototype.render,M=(u=b.contextType)&&i[u.__c],C=u?M?M.props.value:u.__:i,t.__c?f=(h=e.__c=t.__c).__=h.__E:(y?e.__c=h=new b(E,C):(e.__c=h=new fr(E,C),h.constructor=b,h.render=Vf),M&&M.sub(h),h.state||(h.state={}),h.__n=i,p=h.__d=!0,h.__h=[],h._sb=[]),y&&h.__s==null&&(h.__s=h.state),y&&b.getDerivedStateFromProps!=null&&(h.__s==h.state&&(h.__s=_n({},h.__s)),_n(h.__s,b.getDerivedStateFromProps(E,h.__s))),g=h.props,_=h.state,h.__v=e,p)y&&b.getDerivedStateFromProps==null&&h.componentWillMount!=null&&h.componentWillMount(),y&&h.componentDidMount!=null&&h.__h.push(h.componentDidMount);else{if(y&&b.getDerivedStateFromProps==null&&E!==g&&h.componentWillReceiveProps!=null&&h.componentWillReceiveProps(E,C),e.__v==t.__v||!h.__e&&h.shouldComponentUpdate!=null&&h.shouldComponentUpdate(E,h.__s,C)===!1){e.__v!=t.__v&&(h.props=E,h.state=h.__s,h.__d=!1),e.__e=t.__e,e.__k=t.__k,e.__k.some(function(P){P&&(P.__=e)}),Jr.push.apply(h.__h,h._sb),h._sb=[],h.__h.length&&a.push(h),o=Zn(t);break e}h.componentWillUpdate!=null&&h.componentWillUpdate(E,h.__s,C),y&&h.componentDidUpdate!=null&&h.__h.push(function(){h.componentDidUpdate(g,_,m)})}if(h.context=C,h.props=E,h.__P=n,h.__e=!1,A=$e.__r,D=0,y)h.state=h.__s,h.__d=!1,A&&A(e),u=h.render(h.props,h.state,h.context),Jr.push.apply(h.__h,h._sb),h._sb=[];else do h.__d=!1,A&&A(e),u=h.render(h.props,h.state,h.context),h.state=h.__s;while(h.__d&&++D<25);h.state=h.__s,h.getChildContext!=null&&(i=_n(_n({},i),h.getChildContext())),y&&!p&&h.getSnapshotBeforeUpdate!=null&&(m=h.getSnapshotBeforeUpdate(g,_)),F=u!=null&&u.type===Et&&u.key==null?Ec(u.props.children):u,o=xc(n,Qr(F)?F:[F],e,t,i,r,s,a,o,l,c),h.base=e.__e,e.__u&=-161,h.__h.length&&a.push(h),f&&(h.__E=h.__=null)}catch(P){if(a.length=d,e.__v=null,l||s!=null){if(P.then){for(e.__u|=l?160:128;o&&o.nodeType==8&&o.nextSibling;)o=o.nextSibling;s!=null&&(s[s.indexOf(o)]=null),e.__e=o}else if(s!=null)for(w=s.length;w--;)Ra(s[w])}else e.__e=t.__e;e.__k==null&&(e.__k=t.__k||[]),P.then||wc(e),$e.__e(P,e,t)}}else s==null&&e.__v==t.__v?(e.__k=t.__k,e.__e=t.__e):o=e.__e=Hf(t.__e,e,t,i,r,s,a,l,c);return(u=$e.diffed)&&u(e),128&e.__u?void 0:o}function wc(n){n&&(n.__c&&(n.__c.__e=!0),n.__k&&n.__k.some(wc))}function yc(n,e,t){for(var i=0;i<t.length;i++)Pa(t[i],t[++i],t[++i]);$e.__c&&$e.__c(e,n),n.some(function(r){try{n=r.__h,r.__h=[],n.some(function(s){s.call(r)})}catch(s){$e.__e(s,r.__v)}})}function Ec(n){return typeof n!="object"||n==null||n.__b>0?n:Qr(n)?n.map(Ec):n.constructor!==void 0?null:_n({},n)}function Hf(n,e,t,i,r,s,a,o,l){var c,u,d,h,p,g,_,m=t.props||Kr,f=e.props,E=e.type;if(E=="svg"?r="http://www.w3.org/2000/svg":E=="math"?r="http://www.w3.org/1998/Math/MathML":r||(r="http://www.w3.org/1999/xhtml"),s!=null){for(c=0;c<s.length;c++)if((p=s[c])&&"setAttribute"in p==!!E&&(E?p.localName==E:p.nodeType==3)){n=p,s[c]=null;break}}if(n==null){if(E==null)return document.createTextNode(f);n=document.createElementNS(r,E,f.is&&f),o&&($e.__m&&$e.__m(e,s),o=!1),s=null}if(E==null)m===f||o&&n.data==f||(n.data=f);else{if(s=E=="textarea"&&f.defaultValue!=null?null:s&&jr.call(n.childNodes),!o&&s!=null)for(m={},c=0;c<n.attributes.length;c++)m[(p=n.attributes[c]).name]=p.value;for(c in m)p=m[c],c=="dangerouslySetInnerHTML"?d=p:c=="children"||c in f||c=="value"&&"defaultValue"in f||c=="checked"&&"defaultChecked"in f||ns(n,c,null,p,r);for(c in f)p=f[c],c=="children"?h=p:c=="dangerouslySetInnerHTML"?u=p:c=="value"?g=p:c=="checked"?_=p:o&&typeof p!="function"||m[c]===p||ns(n,c,p,m[c],r);if(u)o||d&&(u.__html==d.__html||u.__html==n.innerHTML)||(n.innerHTML=u.__html),e.__k=[];else if(d&&(n.innerHTML=""),xc(e.type=="template"?n.content:n,Qr(h)?h:[h],e,t,i,E=="foreignObject"?"http://www.w3.org/1999/xhtml":r,s,a,s?s[0]:t.__k&&Zn(t,0),o,l),s!=null)for(c=s.length;c--;)Ra(s[c]);o&&E!="textarea"||(c="value",E=="progress"&&g==null?n.removeAttribute("value"):g!=null&&(g!==n[c]||E=="progress"&&!g||E=="option"&&g!=m[c])&&ns(n,c,g,m[c],r),c="checked",_!=null&&_!=n[c]&&ns(n,c,_,m[c],r))}return n}function Pa(n,e,t){try{if(typeof n=="function"){var i=typeof n.__u=="function";i&&n.__u(),i&&e==null||(n.__u=n(e))}else n.current=e}catch(r){$e.__e(r,t)}}function Tc(n,e,t){var i,r;if($e.unmount&&$e.unmount(n),(i=n.ref)&&(i.current&&i.current!=n.__e||Pa(i,null,e)),(i=n.__c)!=null){if(i.componentWillUnmount)try{i.componentWillUnmount()}catch(s){$e.__e(s,e)}i.base=i.__P=i.__n=null}if(i=n.__k)for(r=0;r<i.length;r++)i[r]&&Tc(i[r],e,t||typeof n.type!="function");t||Ra(n.__e),n.__c=n.__=n.__e=void 0}function Vf(n,e,t){return this.constructor(n,t)}function Gf(n,e,t){var i,r,s,a;e==document&&(e=document.documentElement),$e.__&&$e.__(n,e),r=(i=!1)?null:e.__k,s=[],a=[],Ca(e,n=e.__k=gc(Et,null,[n]),r||Kr,Kr,e.namespaceURI,r?null:e.firstChild?jr.call(e.childNodes):null,s,r?r.__e:e.firstChild,i,a),yc(s,n,a),n.props.children=null}jr=Jr.slice,$e={__e:function(n,e,t,i){for(var r,s,a;e=e.__;)if((r=e.__c)&&!r.__)try{if((s=r.constructor)&&s.getDerivedStateFromError!=null&&(r.setState(s.getDerivedStateFromError(n)),a=r.__d),r.componentDidCatch!=null&&(r.componentDidCatch(n,i||{}),a=r.__d),a)return r.__E=r}catch(o){n=o}throw n}},hc=0,uc=function(n){return n!=null&&n.constructor===void 0},fr.prototype.setState=function(n,e){var t;t=this.__s!=null&&this.__s!=this.state?this.__s:this.__s=_n({},this.state),typeof n=="function"&&(n=n(_n({},t),this.props)),n&&_n(t,n),n!=null&&this.__v&&(e&&this._sb.push(e),vc(this))},fr.prototype.forceUpdate=function(n){this.__v&&(this.__e=!0,n&&this.__h.push(n),vc(this))},fr.prototype.render=Et,Un=[],fc=typeof Promise=="function"?Promise.prototype.then.bind(Promise.resolve()):setTimeout,pc=function(n,e){return n.__v.__b-e.__v.__b},ts.__r=0,ya=Math.random().toString(8),Zr="__d"+ya,dr="__a"+ya,mc=/(PointerCapture)$|Capture$/i,Ea=0,Ta=Mc(!1),Aa=Mc(!0);var Wf=0;function x(n,e,t,i,r,s){e||(e={});var a,o,l=e;if("ref"in l)for(o in l={},e)o=="ref"?a=e[o]:l[o]=e[o];var c={type:n,props:l,key:t,ref:a,__k:null,__:null,__b:0,__e:null,__c:null,constructor:void 0,__v:--Wf,__i:-1,__u:0,__source:r,__self:s};if(typeof n=="function"&&(a=n.defaultProps))for(o in a)l[o]===void 0&&(l[o]=a[o]);return $e.vnode&&$e.vnode(c),c}var is,Nt,Da,Ac,La=0,Rc=[],pt=$e,Cc=pt.__b,Pc=pt.__r,Dc=pt.diffed,Lc=pt.__c,Nc=pt.unmount,Uc=pt.__;function Ic(n,e){pt.__h&&pt.__h(Nt,n,La||e),La=0;var t=Nt.__H||(Nt.__H={__:[],__h:[]});return n>=t.__.length&&t.__.push({}),t.__[n]}function In(n,e){var t=Ic(is++,3);!pt.__s&&Fc(t.__H,e)&&(t.__=n,t.u=e,Nt.__H.__h.push(t))}function Kn(n){return La=5,pr(function(){return{current:n}},[])}function pr(n,e){var t=Ic(is++,7);return Fc(t.__H,e)&&(t.__=n(),t.__H=e,t.__h=n),t.__}function $f(){for(var n;n=Rc.shift();){var e=n.__H;if(n.__P&&e)try{e.__h.some(rs),e.__h.some(Na),e.__h=[]}catch(t){e.__h=[],pt.__e(t,n.__v)}}}pt.__b=function(n){Nt=null,Cc&&Cc(n)},pt.__=function(n,e){n&&e.__k&&e.__k.__m&&(n.__m=e.__k.__m),Uc&&Uc(n,e)},pt.__r=function(n){Pc&&Pc(n),is=0;var e=(Nt=n.__c).__H;e&&(Da===Nt?(e.__h=[],Nt.__h=[],e.__.some(function(t){t.__N&&(t.__=t.__N),t.u=t.__N=void 0})):(e.__h.some(rs),e.__h.some(Na),e.__h=[],is=0)),Da=Nt},pt.diffed=function(n){Dc&&Dc(n);var e=n.__c;e&&e.__H&&(e.__H.__h.length&&(Rc.push(e)!==1&&Ac===pt.requestAnimationFrame||((Ac=pt.requestAnimationFrame)||Xf)($f)),e.__H.__.some(function(t){t.u&&(t.__H=t.u,t.u=void 0)})),Da=Nt=null},pt.__c=function(n,e){e.some(function(t){try{t.__h.some(rs),t.__h=t.__h.filter(function(i){return!i.__||Na(i)})}catch(i){e.some(function(r){r.__h&&(r.__h=[])}),e=[],pt.__e(i,t.__v)}}),Lc&&Lc(n,e)},pt.unmount=function(n){Nc&&Nc(n);var e,t=n.__c;t&&t.__H&&(t.__H.__.some(function(i){try{rs(i)}catch(r){e=r}}),t.__H=void 0,e&&pt.__e(e,t.__v))};var kc=typeof requestAnimationFrame=="function";function Xf(n){var e,t=function(){clearTimeout(i),kc&&cancelAnimationFrame(e),setTimeout(n)},i=setTimeout(t,35);kc&&(e=requestAnimationFrame(t))}function rs(n){var e=Nt,t=n.__c;typeof t=="function"&&(n.__c=void 0,t()),Nt=e}function Na(n){var e=Nt;n.__c=n.__(),Nt=e}function Fc(n,e){return!n||n.length!==e.length||e.some(function(t,i){return t!==n[i]})}var qf=Symbol.for("preact-signals");function ss(){if(vn>1)vn--;else{var n,e=!1;for((function(){var r=ls;for(ls=void 0;r!==void 0;){var s=r.S;if(s.v===r.v)for(var a=s.t;a!==void 0;a=a.x)a.i===r.i&&(a.i=s.i);r=r.o}})();gr!==void 0;){var t=gr;for(gr=void 0,os++;t!==void 0;){var i=t.u;if(t.u=void 0,t.f&=-3,!(8&t.f)&&Bc(t))try{t.c()}catch(r){e||(n=r,e=!0)}t=i}}if(os=0,vn--,e)throw n}}function Yf(n){if(vn>0)return n();Ua=++jf,vn++;try{return n()}finally{ss()}}var mr,nt=void 0;function as(n){var e=nt,t=mr;nt=void 0,mr=void 0;try{return n()}finally{nt=e,mr=t}}var gr=void 0,vn=0,os=0,jf=0,Ua=0,ls=void 0,cs=0;function Oc(n){if(nt!==void 0){var e=n.n;if(e===void 0||e.t!==nt)return e={i:0,S:n,p:nt.s,n:void 0,t:nt,e:void 0,x:void 0,r:e},nt.s!==void 0&&(nt.s.n=e),nt.s=e,n.n=e,32&nt.f&&n.S(e),e;if(e.i===-1)return e.i=0,e.n!==void 0&&(e.n.p=e.p,e.p!==void 0&&(e.p.n=e.n),e.p=nt.s,e.n=void 0,nt.s.n=e,nt.s=e),e}}function wt(n,e){this.v=n,this.i=0,this.n=void 0,this.t=void 0,this.l=0,this.W=e?.watched,this.Z=e?.unwatched,this.name=e?.name}wt.prototype.brand=qf,wt.prototype.h=function(){return!0},wt.prototype.S=function(n){var e=this,t=this.t;t!==n&&n.e===void 0&&(n.x=t,this.t=n,t!==void 0?t.e=n:as(function(){var i;(i=e.W)==null||i.call(e)}))},wt.prototype.U=function(n){var e=this;if(this.t!==void 0){var t=n.e,i=n.x;t!==void 0&&(t.x=i,n.e=void 0),i!==void 0&&(i.e=t,n.x=void 0),n===this.t&&(this.t=i,i===void 0&&as(function(){var r;(r=e.Z)==null||r.call(e)}))}},wt.prototype.subscribe=function(n){var e=this;return un(function(){var t=e.value;as(function(){return n(t)})},{name:"sub"})},wt.prototype.valueOf=function(){return this.value},wt.prototype.toString=function(){return this.value+""},wt.prototype.toJSON=function(){return this.value},wt.prototype.peek=function(){var n=this;return as(function(){return n.value})},Object.defineProperty(wt.prototype,"value",{get:function(){var n=Oc(this);return n!==void 0&&(n.i=this.i),this.v},set:function(n){if(n!==this.v){if(os>100)throw new Error("Cycle detected");(function(t){vn!==0&&os===0&&t.l!==Ua&&(t.l=Ua,ls={S:t,v:t.v,i:t.i,o:ls})})(this),this.v=n,this.i++,cs++,vn++;try{for(var e=this.t;e!==void 0;e=e.x)e.t.N()}finally{ss()}}}});function it(n,e){return new wt(n,e)}function Bc(n){for(var e=n.s;e!==void 0;e=e.n)if(e.S.i!==e.i||!e.S.h()||e.S.i!==e.i)return!0;return!1}function zc(n){for(var e=n.s;e!==void 0;e=e.n){var t=e.S.n;if(t!==void 0&&(e.r=t),e.S.n=e,e.i=-1,e.n===void 0){n.s=e;break}}}function Hc(n){for(var e=n.s,t=void 0;e!==void 0;){var i=e.p;e.i===-1?(e.S.U(e),i!==void 0&&(i.n=e.n),e.n!==void 0&&(e.n.p=i)):t=e,e.S.n=e.r,e.r!==void 0&&(e.r=void 0),e=i}n.s=t}function Jn(n,e){wt.call(this,void 0,e),this.x=n,this.s=void 0,this.g=cs-1,this.f=4}Jn.prototype=new wt,Jn.prototype.h=function(){if(this.f&=-3,1&this.f)return!1;if((36&this.f)==32||(this.f&=-5,this.g===cs))return!0;if(this.g=cs,this.f|=1,this.i>0&&!Bc(this))return this.f&=-2,!0;var n=nt;try{zc(this),nt=this;var e=this.x();(16&this.f||this.v!==e||this.i===0)&&(this.v=e,this.f&=-17,this.i++)}catch(t){this.v=t,this.f|=16,this.i++}return nt=n,Hc(this),this.f&=-2,!0},Jn.prototype.S=function(n){if(this.t===void 0){this.f|=36;for(var e=this.s;e!==void 0;e=e.n)e.S.S(e)}wt.prototype.S.call(this,n)},Jn.prototype.U=function(n){if(this.t!==void 0&&(wt.prototype.U.call(this,n),this.t===void 0)){this.f&=-33;for(var e=this.s;e!==void 0;e=e.n)e.S.U(e)}},Jn.prototype.N=function(){if(!(2&this.f)){this.f|=6;for(var n=this.t;n!==void 0;n=n.x)n.t.N()}},Object.defineProperty(Jn.prototype,"value",{get:function(){if(1&this.f)throw new Error("Cycle detected");var n=Oc(this);if(this.h(),n!==void 0&&(n.i=this.i),16&this.f)throw this.v;return this.v}});function yi(n,e){return new Jn(n,e)}function Vc(n){var e=n.j;if(n.j=void 0,typeof e=="function"){vn++;var t=nt;nt=void 0;try{e()}catch(i){throw n.f&=-2,n.f|=8,Ia(n),i}finally{nt=t,ss()}}}function Ia(n){for(var e=n.s;e!==void 0;e=e.n)e.S.U(e);n.x=void 0,n.s=void 0,Vc(n)}function Zf(n){if(nt!==this)throw new Error("Out-of-order effect");Hc(this),nt=n,this.f&=-2;try{8&this.f&&Ia(this)}finally{ss()}}function Ei(n,e){this.x=n,this.j=void 0,this.s=void 0,this.u=void 0,this.f=32,this.name=e?.name,mr&&mr.push(this)}Ei.prototype.c=function(){var n=this.S();try{if(8&this.f||this.x===void 0)return;var e=this.x();typeof e=="function"&&(this.j=e)}finally{n()}},Ei.prototype.S=function(){if(1&this.f)throw new Error("Cycle detected");this.f|=1,this.f&=-9,Vc(this),zc(this),vn++;var n=nt;return nt=this,Zf.bind(this,n)},Ei.prototype.N=function(){2&this.f||(this.f|=2,this.u=gr,gr=this)},Ei.prototype.d=function(){this.f|=8,1&this.f||Ia(this)},Ei.prototype.dispose=function(){this.d()};function un(n,e){var t=new Ei(n,e);try{t.c()}catch(r){throw t.d(),r}var i=t.d.bind(t);return i[Symbol.dispose]=i,i}var Gc,hs,Kf=typeof window<"u"&&!!window.__PREACT_SIGNALS_DEVTOOLS__,Wc=[];un(function(){Gc=this.N})();function Ti(n,e){$e[n]=e.bind(null,$e[n]||function(){})}function _r(n){if(hs){var e=hs;hs=void 0,e()}hs=n&&n.S()}function $c(n){var e=this,t=n.data,i=Jt(t);i.name="ReactiveDom",i.value=t;var r=pr(function(){for(var o=e,l=e.__v;l=l.__;)if(l.__c){l.__c.__$f|=4;break}var c=yi(function(){var p=i.value.value;return p===0?0:p===!0?"":p||""}),u=yi(function(){return!Array.isArray(c.value)&&!uc(c.value)}),d=un(function(){if(this.N=Xc,u.value){var p=c.value;o.__v&&o.__v.__e&&o.__v.__e.nodeType===3&&(o.__v.__e.data=p)}}),h=e.__$u.d;return e.__$u.d=function(){d(),h.call(this)},[u,c]},[]),s=r[0],a=r[1];return s.value?a.peek():a.value}$c.displayName="ReactiveTextNode",Object.defineProperties(wt.prototype,{constructor:{configurable:!0,value:gc(Et,null).constructor},type:{configurable:!0,value:$c},props:{configurable:!0,get:function(){var n=this;return{data:{get value(){return n.value}}}}},__b:{configurable:!0,value:1}}),Ti("__b",function(n,e){if(_r(),typeof e.type=="string"){var t,i=e.props;for(var r in i)if(r!=="children"){var s=i[r];s instanceof wt&&(t||(e.__np=t={}),t[r]=s,i[r]=s.peek())}}n(e)}),Ti("__r",function(n,e){if(n(e),e.type!==Et){_r();var t,i=e.__c;i&&(i.__$f&=-2,(t=i.__$u)===void 0&&(i.__$u=t=(function(r,s){var a;return un(function(){a=this},{name:s}),a.c=r,a})((function(r){return function(){var s;Kf&&((s=this.y)==null||s.call(this)),r.__$f|=1,r.setState({})}})(i),typeof e.type=="function"?e.type.displayName||e.type.name:""))),_r(t)}}),Ti("__e",function(n,e,t,i){_r(),n(e,t,i)}),Ti("diffed",function(n,e){_r();var t;if(typeof e.type=="string"&&(t=e.__e)){var i=e.__np,r=e.props,s=t.U;if(s)for(var a in s){var o=s[a];o===void 0||i&&a in i||(o.d(),s[a]=void 0)}if(i){s||(s={},t.U=s);for(var l in i){var c=s[l],u=i[l];c===void 0?(c=Jf(t,l,u,r),s[l]=c):c.o(u,r)}}}n(e)});function Jf(n,e,t,i){var r=e in n&&n.ownerSVGElement===void 0,s=it(t);return{o:function(a,o){s.value=a,i=o},d:un(function(){this.N=Xc;var a=s.value.value;i[e]!==a&&(i[e]=a,r?n[e]=a:a!=null&&(a!==!1||e[4]==="-")?n.setAttribute(e,a):n.removeAttribute(e))})}}Ti("unmount",function(n,e){if(typeof e.type=="string"){var t=e.__e;if(t){var i=t.U;if(i){t.U=void 0;for(var r in i){var s=i[r];s&&s.d()}}}var a=e.__np;if(a){var o=e.props;for(var l in a)o[l]=a[l]}e.__np=void 0}else{var c=e.__c;if(c){c.__$f|=8;var u=c.__$u;u&&(c.__$u=void 0,u.d())}}n(e)}),Ti("__h",function(n,e,t,i){i<3&&(e.__$f|=2),n(e,t,i)}),fr.prototype.shouldComponentUpdate=function(n,e){if(this.__R)return!0;var t=this.__$u,i=t&&t.s!==void 0;for(var r in e)return!0;if(this.__f||typeof this.u=="boolean"&&this.u===!0){var s=2&this.__$f;if(!(i||s||4&this.__$f)||1&this.__$f)return!0}else if(!(i||4&this.__$f)||3&this.__$f)return!0;for(var a in n)if(a!=="__source"&&n[a]!==this.props[a])return!0;for(var o in this.props)if(!(o in n))return!0;return!1};function Jt(n,e){return pr(function(){return it(n,e)},[])}var Qf=function(n){queueMicrotask(function(){queueMicrotask(n)})};function ep(){Yf(function(){for(var n;n=Wc.shift();)Gc.call(n)})}function Xc(){Wc.push(this)===1&&($e.requestAnimationFrame||Qf)(ep)}function us(n,e){return n==null||e==null?NaN:n<e?-1:n>e?1:n>=e?0:NaN}function tp(n,e){return n==null||e==null?NaN:e<n?-1:e>n?1:e>=n?0:NaN}function qc(n){let e,t,i;n.length!==2?(e=us,t=(o,l)=>us(n(o),l),i=(o,l)=>n(o)-l):(e=n===us||n===tp?n:np,t=n,i=n);function r(o,l,c=0,u=o.length){if(c<u){if(e(l,l)!==0)return u;do{const d=c+u>>>1;t(o[d],l)<0?c=d+1:u=d}while(c<u)}return c}function s(o,l,c=0,u=o.length){if(c<u){if(e(l,l)!==0)return u;do{const d=c+u>>>1;t(o[d],l)<=0?c=d+1:u=d}while(c<u)}return c}function a(o,l,c=0,u=o.length){const d=r(o,l,c,u-1);return d>c&&i(o[d-1],l)>-i(o[d],l)?d-1:d}return{left:r,center:a,right:s}}function np(){return 0}function ip(n){return n===null?NaN:+n}const rp=qc(us).right;qc(ip).center;const sp=Math.sqrt(50),ap=Math.sqrt(10),op=Math.sqrt(2);function ds(n,e,t){const i=(e-n)/Math.max(0,t),r=Math.floor(Math.log10(i)),s=i/Math.pow(10,r),a=s>=sp?10:s>=ap?5:s>=op?2:1;let o,l,c;return r<0?(c=Math.pow(10,-r)/a,o=Math.round(n*c),l=Math.round(e*c),o/c<n&&++o,l/c>e&&--l,c=-c):(c=Math.pow(10,r)*a,o=Math.round(n/c),l=Math.round(e/c),o*c<n&&++o,l*c>e&&--l),l<o&&.5<=t&&t<2?ds(n,e,t*2):[o,l,c]}function ka(n,e,t){if(e=+e,n=+n,t=+t,!(t>0))return[];if(n===e)return[n];const i=e<n,[r,s,a]=i?ds(e,n,t):ds(n,e,t);if(!(s>=r))return[];const o=s-r+1,l=new Array(o);if(i)if(a<0)for(let c=0;c<o;++c)l[c]=(s-c)/-a;else for(let c=0;c<o;++c)l[c]=(s-c)*a;else if(a<0)for(let c=0;c<o;++c)l[c]=(r+c)/-a;else for(let c=0;c<o;++c)l[c]=(r+c)*a;return l}function Fa(n,e,t){return e=+e,n=+n,t=+t,ds(n,e,t)[2]}function lp(n,e,t){e=+e,n=+n,t=+t;const i=e<n,r=i?Fa(e,n,t):Fa(n,e,t);return(i?-1:1)*(r<0?1/-r:r)}function Ai(n,e,t){n.prototype=e.prototype=t,t.constructor=n}function vr(n,e){var t=Object.create(n.prototype);for(var i in e)t[i]=e[i];return t}function kn(){}var Qn=.7,Ri=1/Qn,Ci="\\s*([+-]?\\d+)\\s*",xr="\\s*([+-]?(?:\\d*\\.)?\\d+(?:[eE][+-]?\\d+)?)\\s*",dn="\\s*([+-]?(?:\\d*\\.)?\\d+(?:[eE][+-]?\\d+)?)%\\s*",cp=/^#([0-9a-f]{3,8})$/,hp=new RegExp(`^rgb\\(${Ci},${Ci},${Ci}\\)$`),up=new RegExp(`^rgb\\(${dn},${dn},${dn}\\)$`),dp=new RegExp(`^rgba\\(${Ci},${Ci},${Ci},${xr}\\)$`),fp=new RegExp(`^rgba\\(${dn},${dn},${dn},${xr}\\)$`),pp=new RegExp(`^hsl\\(${xr},${dn},${dn}\\)$`),mp=new RegExp(`^hsla\\(${xr},${dn},${dn},${xr}\\)$`),Yc={aliceblue:15792383,antiquewhite:16444375,aqua:65535,aquamarine:8388564,azure:15794175,beige:16119260,bisque:16770244,black:0,blanchedalmond:16772045,blue:255,blueviolet:9055202,brown:10824234,burlywood:14596231,cadetblue:6266528,chartreuse:8388352,chocolate:13789470,coral:16744272,cornflowerblue:6591981,cornsilk:16775388,crimson:14423100,cyan:65535,darkblue:139,darkcyan:35723,darkgoldenrod:12092939,darkgray:11119017,darkgreen:25600,darkgrey:11119017,darkkhaki:12433259,darkmagenta:9109643,darkolivegreen:5597999,darkorange:16747520,darkorchid:10040012,darkred:9109504,darksalmon:15308410,darkseagreen:9419919,darkslateblue:4734347,darkslategray:3100495,darkslategrey:3100495,darkturquoise:52945,darkviolet:9699539,deeppink:16716947,deepskyblue:49151,dimgray:6908265,dimgrey:6908265,dodgerblue:2003199,firebrick:11674146,floralwhite:16775920,forestgreen:2263842,fuchsia:16711935,gainsboro:14474460,ghostwhite:16316671,gold:16766720,goldenrod:14329120,gray:8421504,green:32768,greenyellow:11403055,grey:8421504,honeydew:15794160,hotpink:16738740,indianred:13458524,indigo:4915330,ivory:16777200,khaki:15787660,lavender:15132410,lavenderblush:16773365,lawngreen:8190976,lemonchiffon:16775885,lightblue:11393254,lightcoral:15761536,lightcyan:14745599,lightgoldenrodyellow:16448210,lightgray:13882323,lightgreen:9498256,lightgrey:13882323,lightpink:16758465,lightsalmon:16752762,lightseagreen:2142890,lightskyblue:8900346,lightslategray:7833753,lightslategrey:7833753,lightsteelblue:11584734,lightyellow:16777184,lime:65280,limegreen:3329330,linen:16445670,magenta:16711935,maroon:8388608,mediumaquamarine:6737322,mediumblue:205,mediumorchid:12211667,mediumpurple:9662683,mediumseagreen:3978097,mediumslateblue:8087790,mediumspringgreen:64154,mediumturquoise:4772300,mediumvioletred:13047173,midnightblue:1644912,mintcream:16121850,mistyrose:16770273,moccasin:16770229,navajowhite:16768685,navy:128,oldlace:16643558,olive:8421376,olivedrab:7048739,orange:16753920,orangered:16729344,orchid:14315734,palegoldenrod:15657130,palegreen:10025880,paleturquoise:11529966,palevioletred:14381203,papayawhip:16773077,peachpuff:16767673,peru:13468991,pink:16761035,plum:14524637,powderblue:11591910,purple:8388736,rebeccapurple:6697881,red:16711680,rosybrown:12357519,royalblue:4286945,saddlebrown:9127187,salmon:16416882,sandybrown:16032864,seagreen:3050327,seashell:16774638,sienna:10506797,silver:12632256,skyblue:8900331,slateblue:6970061,slategray:7372944,slategrey:7372944,snow:16775930,springgreen:65407,steelblue:4620980,tan:13808780,teal:32896,thistle:14204888,tomato:16737095,turquoise:4251856,violet:15631086,wheat:16113331,white:16777215,whitesmoke:16119285,yellow:16776960,yellowgreen:10145074};Ai(kn,Sr,{copy(n){return Object.assign(new this.constructor,this,n)},displayable(){return this.rgb().displayable()},hex:jc,formatHex:jc,formatHex8:gp,formatHsl:_p,formatRgb:Zc,toString:Zc});function jc(){return this.rgb().formatHex()}function gp(){return this.rgb().formatHex8()}function _p(){return th(this).formatHsl()}function Zc(){return this.rgb().formatRgb()}function Sr(n){var e,t;return n=(n+"").trim().toLowerCase(),(e=cp.exec(n))?(t=e[1].length,e=parseInt(e[1],16),t===6?Kc(e):t===3?new xt(e>>8&15|e>>4&240,e>>4&15|e&240,(e&15)<<4|e&15,1):t===8?fs(e>>24&255,e>>16&255,e>>8&255,(e&255)/255):t===4?fs(e>>12&15|e>>8&240,e>>8&15|e>>4&240,e>>4&15|e&240,((e&15)<<4|e&15)/255):null):(e=hp.exec(n))?new xt(e[1],e[2],e[3],1):(e=up.exec(n))?new xt(e[1]*255/100,e[2]*255/100,e[3]*255/100,1):(e=dp.exec(n))?fs(e[1],e[2],e[3],e[4]):(e=fp.exec(n))?fs(e[1]*255/100,e[2]*255/100,e[3]*255/100,e[4]):(e=pp.exec(n))?eh(e[1],e[2]/100,e[3]/100,1):(e=mp.exec(n))?eh(e[1],e[2]/100,e[3]/100,e[4]):Yc.hasOwnProperty(n)?Kc(Yc[n]):n==="transparent"?new xt(NaN,NaN,NaN,0):null}function Kc(n){return new xt(n>>16&255,n>>8&255,n&255,1)}function fs(n,e,t,i){return i<=0&&(n=e=t=NaN),new xt(n,e,t,i)}function Oa(n){return n instanceof kn||(n=Sr(n)),n?(n=n.rgb(),new xt(n.r,n.g,n.b,n.opacity)):new xt}function Ba(n,e,t,i){return arguments.length===1?Oa(n):new xt(n,e,t,i??1)}function xt(n,e,t,i){this.r=+n,this.g=+e,this.b=+t,this.opacity=+i}Ai(xt,Ba,vr(kn,{brighter(n){return n=n==null?Ri:Math.pow(Ri,n),new xt(this.r*n,this.g*n,this.b*n,this.opacity)},darker(n){return n=n==null?Qn:Math.pow(Qn,n),new xt(this.r*n,this.g*n,this.b*n,this.opacity)},rgb(){return this},clamp(){return new xt(ei(this.r),ei(this.g),ei(this.b),ps(this.opacity))},displayable(){return-.5<=this.r&&this.r<255.5&&-.5<=this.g&&this.g<255.5&&-.5<=this.b&&this.b<255.5&&0<=this.opacity&&this.opacity<=1},hex:Jc,formatHex:Jc,formatHex8:vp,formatRgb:Qc,toString:Qc}));function Jc(){return`#${ti(this.r)}${ti(this.g)}${ti(this.b)}`}function vp(){return`#${ti(this.r)}${ti(this.g)}${ti(this.b)}${ti((isNaN(this.opacity)?1:this.opacity)*255)}`}function Qc(){const n=ps(this.opacity);return`${n===1?"rgb(":"rgba("}${ei(this.r)}, ${ei(this.g)}, ${ei(this.b)}${n===1?")":`, ${n})`}`}function ps(n){return isNaN(n)?1:Math.max(0,Math.min(1,n))}function ei(n){return Math.max(0,Math.min(255,Math.round(n)||0))}function ti(n){return n=ei(n),(n<16?"0":"")+n.toString(16)}function eh(n,e,t,i){return i<=0?n=e=t=NaN:t<=0||t>=1?n=e=NaN:e<=0&&(n=NaN),new Qt(n,e,t,i)}function th(n){if(n instanceof Qt)return new Qt(n.h,n.s,n.l,n.opacity);if(n instanceof kn||(n=Sr(n)),!n)return new Qt;if(n instanceof Qt)return n;n=n.rgb();var e=n.r/255,t=n.g/255,i=n.b/255,r=Math.min(e,t,i),s=Math.max(e,t,i),a=NaN,o=s-r,l=(s+r)/2;return o?(e===s?a=(t-i)/o+(t<i)*6:t===s?a=(i-e)/o+2:a=(e-t)/o+4,o/=l<.5?s+r:2-s-r,a*=60):o=l>0&&l<1?0:a,new Qt(a,o,l,n.opacity)}function xp(n,e,t,i){return arguments.length===1?th(n):new Qt(n,e,t,i??1)}function Qt(n,e,t,i){this.h=+n,this.s=+e,this.l=+t,this.opacity=+i}Ai(Qt,xp,vr(kn,{brighter(n){return n=n==null?Ri:Math.pow(Ri,n),new Qt(this.h,this.s,this.l*n,this.opacity)},darker(n){return n=n==null?Qn:Math.pow(Qn,n),new Qt(this.h,this.s,this.l*n,this.opacity)},rgb(){var n=this.h%360+(this.h<0)*360,e=isNaN(n)||isNaN(this.s)?0:this.s,t=this.l,i=t+(t<.5?t:1-t)*e,r=2*t-i;return new xt(za(n>=240?n-240:n+120,r,i),za(n,r,i),za(n<120?n+240:n-120,r,i),this.opacity)},clamp(){return new Qt(nh(this.h),ms(this.s),ms(this.l),ps(this.opacity))},displayable(){return(0<=this.s&&this.s<=1||isNaN(this.s))&&0<=this.l&&this.l<=1&&0<=this.opacity&&this.opacity<=1},formatHsl(){const n=ps(this.opacity);return`${n===1?"hsl(":"hsla("}${nh(this.h)}, ${ms(this.s)*100}%, ${ms(this.l)*100}%${n===1?")":`, ${n})`}`}}));function nh(n){return n=(n||0)%360,n<0?n+360:n}function ms(n){return Math.max(0,Math.min(1,n||0))}function za(n,e,t){return(n<60?e+(t-e)*n/60:n<180?t:n<240?e+(t-e)*(240-n)/60:e)*255}const ih=Math.PI/180,rh=180/Math.PI,gs=18,sh=.96422,ah=1,oh=.82521,lh=4/29,Pi=6/29,ch=3*Pi*Pi,Sp=Pi*Pi*Pi;function hh(n){if(n instanceof fn)return new fn(n.l,n.a,n.b,n.opacity);if(n instanceof xn)return uh(n);n instanceof xt||(n=Oa(n));var e=Wa(n.r),t=Wa(n.g),i=Wa(n.b),r=Ha((.2225045*e+.7168786*t+.0606169*i)/ah),s,a;return e===t&&t===i?s=a=r:(s=Ha((.4360747*e+.3850649*t+.1430804*i)/sh),a=Ha((.0139322*e+.0971045*t+.7141733*i)/oh)),new fn(116*r-16,500*(s-r),200*(r-a),n.opacity)}function bp(n,e,t,i){return arguments.length===1?hh(n):new fn(n,e,t,i??1)}function fn(n,e,t,i){this.l=+n,this.a=+e,this.b=+t,this.opacity=+i}Ai(fn,bp,vr(kn,{brighter(n){return new fn(this.l+gs*(n??1),this.a,this.b,this.opacity)},darker(n){return new fn(this.l-gs*(n??1),this.a,this.b,this.opacity)},rgb(){var n=(this.l+16)/116,e=isNaN(this.a)?n:n+this.a/500,t=isNaN(this.b)?n:n-this.b/200;return e=sh*Va(e),n=ah*Va(n),t=oh*Va(t),new xt(Ga(3.1338561*e-1.6168667*n-.4906146*t),Ga(-.9787684*e+1.9161415*n+.033454*t),Ga(.0719453*e-.2289914*n+1.4052427*t),this.opacity)}}));function Ha(n){return n>Sp?Math.pow(n,1/3):n/ch+lh}function Va(n){return n>Pi?n*n*n:ch*(n-lh)}function Ga(n){return 255*(n<=.0031308?12.92*n:1.055*Math.pow(n,1/2.4)-.055)}function Wa(n){return(n/=255)<=.04045?n/12.92:Math.pow((n+.055)/1.055,2.4)}function Mp(n){if(n instanceof xn)return new xn(n.h,n.c,n.l,n.opacity);if(n instanceof fn||(n=hh(n)),n.a===0&&n.b===0)return new xn(NaN,0<n.l&&n.l<100?0:NaN,n.l,n.opacity);var e=Math.atan2(n.b,n.a)*rh;return new xn(e<0?e+360:e,Math.sqrt(n.a*n.a+n.b*n.b),n.l,n.opacity)}function wp(n,e,t,i){return arguments.length===1?Mp(n):new xn(n,e,t,i??1)}function xn(n,e,t,i){this.h=+n,this.c=+e,this.l=+t,this.opacity=+i}function uh(n){if(isNaN(n.h))return new fn(n.l,0,0,n.opacity);var e=n.h*ih;return new fn(n.l,Math.cos(e)*n.c,Math.sin(e)*n.c,n.opacity)}Ai(xn,wp,vr(kn,{brighter(n){return new xn(this.h,this.c,this.l+gs*(n??1),this.opacity)},darker(n){return new xn(this.h,this.c,this.l-gs*(n??1),this.opacity)},rgb(){return uh(this).rgb()}}));var dh=-.14861,$a=1.78277,Xa=-.29227,_s=-.90649,br=1.97294,fh=br*_s,ph=br*$a,mh=$a*Xa-_s*dh;function yp(n){if(n instanceof ni)return new ni(n.h,n.s,n.l,n.opacity);n instanceof xt||(n=Oa(n));var e=n.r/255,t=n.g/255,i=n.b/255,r=(mh*i+fh*e-ph*t)/(mh+fh-ph),s=i-r,a=(br*(t-r)-Xa*s)/_s,o=Math.sqrt(a*a+s*s)/(br*r*(1-r)),l=o?Math.atan2(a,s)*rh-120:NaN;return new ni(l<0?l+360:l,o,r,n.opacity)}function qa(n,e,t,i){return arguments.length===1?yp(n):new ni(n,e,t,i??1)}function ni(n,e,t,i){this.h=+n,this.s=+e,this.l=+t,this.opacity=+i}Ai(ni,qa,vr(kn,{brighter(n){return n=n==null?Ri:Math.pow(Ri,n),new ni(this.h,this.s,this.l*n,this.opacity)},darker(n){return n=n==null?Qn:Math.pow(Qn,n),new ni(this.h,this.s,this.l*n,this.opacity)},rgb(){var n=isNaN(this.h)?0:(this.h+120)*ih,e=+this.l,t=isNaN(this.s)?0:this.s*e*(1-e),i=Math.cos(n),r=Math.sin(n);return new xt(255*(e+t*(dh*i+$a*r)),255*(e+t*(Xa*i+_s*r)),255*(e+t*(br*i)),this.opacity)}}));var vs=n=>()=>n;function gh(n,e){return function(t){return n+t*e}}function Ep(n,e,t){return n=Math.pow(n,t),e=Math.pow(e,t)-n,t=1/t,function(i){return Math.pow(n+i*e,t)}}function Tp(n,e){var t=e-n;return t?gh(n,t>180||t<-180?t-360*Math.round(t/360):t):vs(isNaN(n)?e:n)}function Ap(n){return(n=+n)==1?Di:function(e,t){return t-e?Ep(e,t,n):vs(isNaN(e)?t:e)}}function Di(n,e){var t=e-n;return t?gh(n,t):vs(isNaN(n)?e:n)}var _h=(function n(e){var t=Ap(e);function i(r,s){var a=t((r=Ba(r)).r,(s=Ba(s)).r),o=t(r.g,s.g),l=t(r.b,s.b),c=Di(r.opacity,s.opacity);return function(u){return r.r=a(u),r.g=o(u),r.b=l(u),r.opacity=c(u),r+""}}return i.gamma=n,i})(1);function Rp(n,e){e||(e=[]);var t=n?Math.min(e.length,n.length):0,i=e.slice(),r;return function(s){for(r=0;r<t;++r)i[r]=n[r]*(1-s)+e[r]*s;return i}}function Cp(n){return ArrayBuffer.isView(n)&&!(n instanceof DataView)}function Pp(n,e){var t=e?e.length:0,i=n?Math.min(t,n.length):0,r=new Array(i),s=new Array(t),a;for(a=0;a<i;++a)r[a]=Za(n[a],e[a]);for(;a<t;++a)s[a]=e[a];return function(o){for(a=0;a<i;++a)s[a]=r[a](o);return s}}function Dp(n,e){var t=new Date;return n=+n,e=+e,function(i){return t.setTime(n*(1-i)+e*i),t}}function xs(n,e){return n=+n,e=+e,function(t){return n*(1-t)+e*t}}function Lp(n,e){var t={},i={},r;(n===null||typeof n!="object")&&(n={}),(e===null||typeof e!="object")&&(e={});for(r in e)r in n?t[r]=Za(n[r],e[r]):i[r]=e[r];return function(s){for(r in t)i[r]=t[r](s);return i}}var Ya=/[-+]?(?:\d+\.?\d*|\.?\d+)(?:[eE][-+]?\d+)?/g,ja=new RegExp(Ya.source,"g");function Np(n){return function(){return n}}function Up(n){return function(e){return n(e)+""}}function Ip(n,e){var t=Ya.lastIndex=ja.lastIndex=0,i,r,s,a=-1,o=[],l=[];for(n=n+"",e=e+"";(i=Ya.exec(n))&&(r=ja.exec(e));)(s=r.index)>t&&(s=e.slice(t,s),o[a]?o[a]+=s:o[++a]=s),(i=i[0])===(r=r[0])?o[a]?o[a]+=r:o[++a]=r:(o[++a]=null,l.push({i:a,x:xs(i,r)})),t=ja.lastIndex;return t<e.length&&(s=e.slice(t),o[a]?o[a]+=s:o[++a]=s),o.length<2?l[0]?Up(l[0].x):Np(e):(e=l.length,function(c){for(var u=0,d;u<e;++u)o[(d=l[u]).i]=d.x(c);return o.join("")})}function Za(n,e){var t=typeof e,i;return e==null||t==="boolean"?vs(e):(t==="number"?xs:t==="string"?(i=Sr(e))?(e=i,_h):Ip:e instanceof Sr?_h:e instanceof Date?Dp:Cp(e)?Rp:Array.isArray(e)?Pp:typeof e.valueOf!="function"&&typeof e.toString!="function"||isNaN(e)?Lp:xs)(n,e)}function kp(n,e){return n=+n,e=+e,function(t){return Math.round(n*(1-t)+e*t)}}var Fp=1e-12;function vh(n){return((n=Math.exp(n))+1/n)/2}function Op(n){return((n=Math.exp(n))-1/n)/2}function Bp(n){return((n=Math.exp(2*n))-1)/(n+1)}(function n(e,t,i){function r(s,a){var o=s[0],l=s[1],c=s[2],u=a[0],d=a[1],h=a[2],p=u-o,g=d-l,_=p*p+g*g,m,f;if(_<Fp)f=Math.log(h/c)/e,m=function(D){return[o+D*p,l+D*g,c*Math.exp(e*D*f)]};else{var E=Math.sqrt(_),y=(h*h-c*c+i*_)/(2*c*t*E),M=(h*h-c*c-i*_)/(2*h*t*E),C=Math.log(Math.sqrt(y*y+1)-y),A=Math.log(Math.sqrt(M*M+1)-M);f=(A-C)/e,m=function(D){var F=D*f,w=vh(C),b=c/(t*E)*(w*Bp(e*F+C)-Op(C));return[o+b*p,l+b*g,c*w/vh(e*F+C)]}}return m.duration=Math.abs(f)*1e3*e/Math.SQRT2,m}return r.rho=function(s){var a=Math.max(.001,+s),o=a*a,l=o*o;return n(a,o,l)},r})(Math.SQRT2,2,4);function xh(n){return(function e(t){t=+t;function i(r,s){var a=n((r=qa(r)).h,(s=qa(s)).h),o=Di(r.s,s.s),l=Di(r.l,s.l),c=Di(r.opacity,s.opacity);return function(u){return r.h=a(u),r.s=o(u),r.l=l(Math.pow(u,t)),r.opacity=c(u),r+""}}return i.gamma=e,i})(1)}xh(Tp),xh(Di);function zp(n){return Math.abs(n=Math.round(n))>=1e21?n.toLocaleString("en").replace(/,/g,""):n.toString(10)}function Ss(n,e){if(!isFinite(n)||n===0)return null;var t=(n=e?n.toExponential(e-1):n.toExponential()).indexOf("e"),i=n.slice(0,t);return[i.length>1?i[0]+i.slice(2):i,+n.slice(t+1)]}function Li(n){return n=Ss(Math.abs(n)),n?n[1]:NaN}function Hp(n,e){return function(t,i){for(var r=t.length,s=[],a=0,o=n[0],l=0;r>0&&o>0&&(l+o+1>i&&(o=Math.max(1,i-l)),s.push(t.substring(r-=o,r+o)),!((l+=o+1)>i));)o=n[a=(a+1)%n.length];return s.reverse().join(e)}}function Vp(n){return function(e){return e.replace(/[0-9]/g,function(t){return n[+t]})}}var Gp=/^(?:(.)?([<>=^]))?([+\-( ])?([$#])?(0)?(\d+)?(,)?(\.\d+)?(~)?([a-z%])?$/i;function Mr(n){if(!(e=Gp.exec(n)))throw new Error("invalid format: "+n);var e;return new Ka({fill:e[1],align:e[2],sign:e[3],symbol:e[4],zero:e[5],width:e[6],comma:e[7],precision:e[8]&&e[8].slice(1),trim:e[9],type:e[10]})}Mr.prototype=Ka.prototype;function Ka(n){this.fill=n.fill===void 0?" ":n.fill+"",this.align=n.align===void 0?">":n.align+"",this.sign=n.sign===void 0?"-":n.sign+"",this.symbol=n.symbol===void 0?"":n.symbol+"",this.zero=!!n.zero,this.width=n.width===void 0?void 0:+n.width,this.comma=!!n.comma,this.precision=n.precision===void 0?void 0:+n.precision,this.trim=!!n.trim,this.type=n.type===void 0?"":n.type+""}Ka.prototype.toString=function(){return this.fill+this.align+this.sign+this.symbol+(this.zero?"0":"")+(this.width===void 0?"":Math.max(1,this.width|0))+(this.comma?",":"")+(this.precision===void 0?"":"."+Math.max(0,this.precision|0))+(this.trim?"~":"")+this.type};function Wp(n){e:for(var e=n.length,t=1,i=-1,r;t<e;++t)switch(n[t]){case".":i=r=t;break;case"0":i===0&&(i=t),r=t;break;default:if(!+n[t])break e;i>0&&(i=0);break}return i>0?n.slice(0,i)+n.slice(r+1):n}var bs;function $p(n,e){var t=Ss(n,e);if(!t)return bs=void 0,n.toPrecision(e);var i=t[0],r=t[1],s=r-(bs=Math.max(-8,Math.min(8,Math.floor(r/3)))*3)+1,a=i.length;return s===a?i:s>a?i+new Array(s-a+1).join("0"):s>0?i.slice(0,s)+"."+i.slice(s):"0."+new Array(1-s).join("0")+Ss(n,Math.max(0,e+s-1))[0]}function Sh(n,e){var t=Ss(n,e);if(!t)return n+"";var i=t[0],r=t[1];return r<0?"0."+new Array(-r).join("0")+i:i.length>r+1?i.slice(0,r+1)+"."+i.slice(r+1):i+new Array(r-i.length+2).join("0")}var bh={"%":(n,e)=>(n*100).toFixed(e),b:n=>Math.round(n).toString(2),c:n=>n+"",d:zp,e:(n,e)=>n.toExponential(e),f:(n,e)=>n.toFixed(e),g:(n,e)=>n.toPrecision(e),o:n=>Math.round(n).toString(8),p:(n,e)=>Sh(n*100,e),r:Sh,s:$p,X:n=>Math.round(n).toString(16).toUpperCase(),x:n=>Math.round(n).toString(16)};function Mh(n){return n}var wh=Array.prototype.map,yh=["y","z","a","f","p","n","µ","m","","k","M","G","T","P","E","Z","Y"];function Xp(n){var e=n.grouping===void 0||n.thousands===void 0?Mh:Hp(wh.call(n.grouping,Number),n.thousands+""),t=n.currency===void 0?"":n.currency[0]+"",i=n.currency===void 0?"":n.currency[1]+"",r=n.decimal===void 0?".":n.decimal+"",s=n.numerals===void 0?Mh:Vp(wh.call(n.numerals,String)),a=n.percent===void 0?"%":n.percent+"",o=n.minus===void 0?"−":n.minus+"",l=n.nan===void 0?"NaN":n.nan+"";function c(d,h){d=Mr(d);var p=d.fill,g=d.align,_=d.sign,m=d.symbol,f=d.zero,E=d.width,y=d.comma,M=d.precision,C=d.trim,A=d.type;A==="n"?(y=!0,A="g"):bh[A]||(M===void 0&&(M=12),C=!0,A="g"),(f||p==="0"&&g==="=")&&(f=!0,p="0",g="=");var D=(h&&h.prefix!==void 0?h.prefix:"")+(m==="$"?t:m==="#"&&/[boxX]/.test(A)?"0"+A.toLowerCase():""),F=(m==="$"?i:/[%p]/.test(A)?a:"")+(h&&h.suffix!==void 0?h.suffix:""),w=bh[A],b=/[defgprs%]/.test(A);M=M===void 0?6:/[gprs]/.test(A)?Math.max(1,Math.min(21,M)):Math.max(0,Math.min(20,M));function P(k){var G=D,W=F,Y,q,te;if(A==="c")W=w(k)+W,k="";else{k=+k;var V=k<0||1/k<0;if(k=isNaN(k)?l:w(Math.abs(k),M),C&&(k=Wp(k)),V&&+k==0&&_!=="+"&&(V=!1),G=(V?_==="("?_:o:_==="-"||_==="("?"":_)+G,W=(A==="s"&&!isNaN(k)&&bs!==void 0?yh[8+bs/3]:"")+W+(V&&_==="("?")":""),b){for(Y=-1,q=k.length;++Y<q;)if(te=k.charCodeAt(Y),48>te||te>57){W=(te===46?r+k.slice(Y+1):k.slice(Y))+W,k=k.slice(0,Y);break}}}y&&!f&&(k=e(k,1/0));var se=G.length+k.length+W.length,oe=se<E?new Array(E-se+1).join(p):"";switch(y&&f&&(k=e(oe+k,oe.length?E-W.length:1/0),oe=""),g){case"<":k=G+k+W+oe;break;case"=":k=G+oe+k+W;break;case"^":k=oe.slice(0,se=oe.length>>1)+G+k+W+oe.slice(se);break;default:k=oe+G+k+W;break}return s(k)}return P.toString=function(){return d+""},P}function u(d,h){var p=Math.max(-8,Math.min(8,Math.floor(Li(h)/3)))*3,g=Math.pow(10,-p),_=c((d=Mr(d),d.type="f",d),{suffix:yh[8+p/3]});return function(m){return _(g*m)}}return{format:c,formatPrefix:u}}var Ms,Ja,Eh;qp({thousands:",",grouping:[3],currency:["$",""]});function qp(n){return Ms=Xp(n),Ja=Ms.format,Eh=Ms.formatPrefix,Ms}function Yp(n){return Math.max(0,-Li(Math.abs(n)))}function jp(n,e){return Math.max(0,Math.max(-8,Math.min(8,Math.floor(Li(e)/3)))*3-Li(Math.abs(n)))}function Zp(n,e){return n=Math.abs(n),e=Math.abs(e)-n,Math.max(0,Li(e)-Li(n))+1}function Th(n,e){switch(arguments.length){case 0:break;case 1:this.range(n);break;default:this.range(e).domain(n);break}return this}function Kp(n){return function(){return n}}function Jp(n){return+n}var Ah=[0,1];function Ni(n){return n}function Qa(n,e){return(e-=n=+n)?function(t){return(t-n)/e}:Kp(isNaN(e)?NaN:.5)}function Qp(n,e){var t;return n>e&&(t=n,n=e,e=t),function(i){return Math.max(n,Math.min(e,i))}}function em(n,e,t){var i=n[0],r=n[1],s=e[0],a=e[1];return r<i?(i=Qa(r,i),s=t(a,s)):(i=Qa(i,r),s=t(s,a)),function(o){return s(i(o))}}function tm(n,e,t){var i=Math.min(n.length,e.length)-1,r=new Array(i),s=new Array(i),a=-1;for(n[i]<n[0]&&(n=n.slice().reverse(),e=e.slice().reverse());++a<i;)r[a]=Qa(n[a],n[a+1]),s[a]=t(e[a],e[a+1]);return function(o){var l=rp(n,o,1,i)-1;return s[l](r[l](o))}}function Rh(n,e){return e.domain(n.domain()).range(n.range()).interpolate(n.interpolate()).clamp(n.clamp()).unknown(n.unknown())}function Ch(){var n=Ah,e=Ah,t=Za,i,r,s,a=Ni,o,l,c;function u(){var h=Math.min(n.length,e.length);return a!==Ni&&(a=Qp(n[0],n[h-1])),o=h>2?tm:em,l=c=null,d}function d(h){return h==null||isNaN(h=+h)?s:(l||(l=o(n.map(i),e,t)))(i(a(h)))}return d.invert=function(h){return a(r((c||(c=o(e,n.map(i),xs)))(h)))},d.domain=function(h){return arguments.length?(n=Array.from(h,Jp),u()):n.slice()},d.range=function(h){return arguments.length?(e=Array.from(h),u()):e.slice()},d.rangeRound=function(h){return e=Array.from(h),t=kp,u()},d.clamp=function(h){return arguments.length?(a=h?!0:Ni,u()):a!==Ni},d.interpolate=function(h){return arguments.length?(t=h,u()):t},d.unknown=function(h){return arguments.length?(s=h,d):s},function(h,p){return i=h,r=p,u()}}function nm(){return Ch()(Ni,Ni)}function im(n,e,t,i){var r=lp(n,e,t),s;switch(i=Mr(i??",f"),i.type){case"s":{var a=Math.max(Math.abs(n),Math.abs(e));return i.precision==null&&!isNaN(s=jp(r,a))&&(i.precision=s),Eh(i,a)}case"":case"e":case"g":case"p":case"r":{i.precision==null&&!isNaN(s=Zp(r,Math.max(Math.abs(n),Math.abs(e))))&&(i.precision=s-(i.type==="e"));break}case"f":case"%":{i.precision==null&&!isNaN(s=Yp(r))&&(i.precision=s-(i.type==="%")*2);break}}return Ja(i)}function rm(n){var e=n.domain;return n.ticks=function(t){var i=e();return ka(i[0],i[i.length-1],t??10)},n.tickFormat=function(t,i){var r=e();return im(r[0],r[r.length-1],t??10,i)},n.nice=function(t){t==null&&(t=10);var i=e(),r=0,s=i.length-1,a=i[r],o=i[s],l,c,u=10;for(o<a&&(c=a,a=o,o=c,c=r,r=s,s=c);u-- >0;){if(c=Fa(a,o,t),c===l)return i[r]=a,i[s]=o,e(i);if(c>0)a=Math.floor(a/c)*c,o=Math.ceil(o/c)*c;else if(c<0)a=Math.ceil(a*c)/c,o=Math.floor(o*c)/c;else break;l=c}return n},n}function ws(){var n=nm();return n.copy=function(){return Rh(n,ws())},Th.apply(n,arguments),rm(n)}function sm(n,e){n=n.slice();var t=0,i=n.length-1,r=n[t],s=n[i],a;return s<r&&(a=t,t=i,i=a,a=r,r=s,s=a),n[t]=e.floor(r),n[i]=e.ceil(s),n}function Ph(n){return Math.log(n)}function Dh(n){return Math.exp(n)}function am(n){return-Math.log(-n)}function om(n){return-Math.exp(-n)}function lm(n){return isFinite(n)?+("1e"+n):n<0?0:n}function cm(n){return n===10?lm:n===Math.E?Math.exp:e=>Math.pow(n,e)}function hm(n){return n===Math.E?Math.log:n===10&&Math.log10||n===2&&Math.log2||(n=Math.log(n),e=>Math.log(e)/n)}function Lh(n){return(e,t)=>-n(-e,t)}function um(n){const e=n(Ph,Dh),t=e.domain;let i=10,r,s;function a(){return r=hm(i),s=cm(i),t()[0]<0?(r=Lh(r),s=Lh(s),n(am,om)):n(Ph,Dh),e}return e.base=function(o){return arguments.length?(i=+o,a()):i},e.domain=function(o){return arguments.length?(t(o),a()):t()},e.ticks=o=>{const l=t();let c=l[0],u=l[l.length-1];const d=u<c;d&&([c,u]=[u,c]);let h=r(c),p=r(u),g,_;const m=o==null?10:+o;let f=[];if(!(i%1)&&p-h<m){if(h=Math.floor(h),p=Math.ceil(p),c>0){for(;h<=p;++h)for(g=1;g<i;++g)if(_=h<0?g/s(-h):g*s(h),!(_<c)){if(_>u)break;f.push(_)}}else for(;h<=p;++h)for(g=i-1;g>=1;--g)if(_=h>0?g/s(-h):g*s(h),!(_<c)){if(_>u)break;f.push(_)}f.length*2<m&&(f=ka(c,u,m))}else f=ka(h,p,Math.min(p-h,m)).map(s);return d?f.reverse():f},e.tickFormat=(o,l)=>{if(o==null&&(o=10),l==null&&(l=i===10?"s":","),typeof l!="function"&&(!(i%1)&&(l=Mr(l)).precision==null&&(l.trim=!0),l=Ja(l)),o===1/0)return l;const c=Math.max(1,i*o/e.ticks().length);return u=>{let d=u/s(Math.round(r(u)));return d*i<i-.5&&(d*=i),d<=c?l(u):""}},e.nice=()=>t(sm(t(),{floor:o=>s(Math.floor(r(o))),ceil:o=>s(Math.ceil(r(o)))})),e}function Nh(){const n=um(Ch()).domain([1,10]);return n.copy=()=>Rh(n,Nh()).base(n.base()),Th.apply(n,arguments),n}const wr=Math.PI,eo=2*wr,ii=1e-6,dm=eo-ii;function Uh(n){this._+=n[0];for(let e=1,t=n.length;e<t;++e)this._+=arguments[e]+n[e]}function fm(n){let e=Math.floor(n);if(!(e>=0))throw new Error(`invalid digits: ${n}`);if(e>15)return Uh;const t=10**e;return function(i){this._+=i[0];for(let r=1,s=i.length;r<s;++r)this._+=Math.round(arguments[r]*t)/t+i[r]}}function Ih(n,e,t,i){return n===t&&e===i}function pm(n){const e=Math.floor(n);if(!(e<=15))return Ih;const t=10**e,i=function(r){return Math.round(r*t)};return function(r,s,a,o){return i(r)===i(a)&&i(s)===i(o)}}class mm{constructor(e){this._x0=this._y0=this._x1=this._y1=null,this._="",this._append=e==null?Uh:fm(e),this._equal=e==null?Ih:pm(e)}moveTo(e,t){this._append`M${this._x0=this._x1=+e},${this._y0=this._y1=+t}`}closePath(){this._x1!==null&&(this._x1=this._x0,this._y1=this._y0,this._append`Z`)}lineTo(e,t){this._append`L${this._x1=+e},${this._y1=+t}`}quadraticCurveTo(e,t,i,r){this._append`Q${+e},${+t},${this._x1=+i},${this._y1=+r}`}bezierCurveTo(e,t,i,r,s,a){this._append`C${+e},${+t},${+i},${+r},${this._x1=+s},${this._y1=+a}`}arcTo(e,t,i,r,s){if(e=+e,t=+t,i=+i,r=+r,s=+s,s<0)throw new Error(`negative radius: ${s}`);let a=this._x1,o=this._y1,l=i-e,c=r-t,u=a-e,d=o-t,h=u*u+d*d;if(this._x1===null)this._append`M${this._x1=e},${this._y1=t}`;else if(h>ii)if(!(Math.abs(d*l-c*u)>ii)||!s)this._append`L${this._x1=e},${this._y1=t}`;else{let p=i-a,g=r-o,_=l*l+c*c,m=p*p+g*g,f=Math.sqrt(_),E=Math.sqrt(h),y=s*Math.tan((wr-Math.acos((_+h-m)/(2*f*E)))/2),M=y/E,C=y/f;Math.abs(M-1)>ii&&this._append`L${e+M*u},${t+M*d}`,this._append`A${s},${s},0,0,${+(d*p>u*g)},${this._x1=e+C*l},${this._y1=t+C*c}`}}arc(e,t,i,r,s,a){if(e=+e,t=+t,i=+i,a=!!a,i<0)throw new Error(`negative radius: ${i}`);let o=i*Math.cos(r),l=i*Math.sin(r),c=e+o,u=t+l,d=1^a,h=a?r-s:s-r;if(this._x1===null?this._append`M${c},${u}`:(Math.abs(this._x1-c)>ii||Math.abs(this._y1-u)>ii)&&this._append`L${c},${u}`,!!i){if(h<0&&(h=h%eo+eo),h>dm)this._append`A${i},${i},0,1,${d},${e-o},${t-l}A${i},${i},0,1,${d},${this._x1=c},${this._y1=u}`;else if(h>ii){const p=e+i*Math.cos(s),g=t+i*Math.sin(s);if(h>=wr&&this._equal(c,u,p,g)){h/=2;let _=r+h;this._append`A${i},${i},0,${+(h>=wr)},${d},${e+i*Math.cos(_)},${t+i*Math.sin(_)}`}this._append`A${i},${i},0,${+(h>=wr)},${d},${this._x1=p},${this._y1=g}`}}}rect(e,t,i,r){this._append`M${this._x0=this._x1=+e},${this._y0=this._y1=+t}h${i=+i}v${+r}h${-i}Z`}toString(){return this._}}function St(n){return function(){return n}}const kh=1e-12;function Fh(n){let e=3;return n.digits=function(t){if(!arguments.length)return e;if(t==null)e=null;else{const i=Math.floor(t);if(!(i>=0))throw new RangeError(`invalid digits: ${t}`);e=i}return n},()=>new mm(e)}function Oh(n){return typeof n=="object"&&"length"in n?n:Array.from(n)}function Bh(n){this._context=n}Bh.prototype={areaStart:function(){this._line=0},areaEnd:function(){this._line=NaN},lineStart:function(){this._point=0},lineEnd:function(){(this._line||this._line!==0&&this._point===1)&&this._context.closePath(),this._line=1-this._line},point:function(n,e){switch(n=+n,e=+e,this._point){case 0:this._point=1,this._line?this._context.lineTo(n,e):this._context.moveTo(n,e);break;case 1:this._point=2;default:this._context.lineTo(n,e);break}}};function zh(n){return new Bh(n)}function Hh(n){return n[0]}function Vh(n){return n[1]}function Gh(n,e){var t=St(!0),i=null,r=zh,s=null,a=Fh(o);n=typeof n=="function"?n:n===void 0?Hh:St(n),e=typeof e=="function"?e:e===void 0?Vh:St(e);function o(l){var c,u=(l=Oh(l)).length,d,h=!1,p;for(i==null&&(s=r(p=a())),c=0;c<=u;++c)!(c<u&&t(d=l[c],c,l))===h&&((h=!h)?s.lineStart():s.lineEnd()),h&&s.point(+n(d,c,l),+e(d,c,l));if(p)return s=null,p+""||null}return o.x=function(l){return arguments.length?(n=typeof l=="function"?l:St(+l),o):n},o.y=function(l){return arguments.length?(e=typeof l=="function"?l:St(+l),o):e},o.defined=function(l){return arguments.length?(t=typeof l=="function"?l:St(!!l),o):t},o.curve=function(l){return arguments.length?(r=l,i!=null&&(s=r(i)),o):r},o.context=function(l){return arguments.length?(l==null?i=s=null:s=r(i=l),o):i},o}function gm(n,e,t){var i=null,r=St(!0),s=null,a=zh,o=null,l=Fh(c);n=typeof n=="function"?n:n===void 0?Hh:St(+n),e=typeof e=="function"?e:St(e===void 0?0:+e),t=typeof t=="function"?t:t===void 0?Vh:St(+t);function c(d){var h,p,g,_=(d=Oh(d)).length,m,f=!1,E,y=new Array(_),M=new Array(_);for(s==null&&(o=a(E=l())),h=0;h<=_;++h){if(!(h<_&&r(m=d[h],h,d))===f)if(f=!f)p=h,o.areaStart(),o.lineStart();else{for(o.lineEnd(),o.lineStart(),g=h-1;g>=p;--g)o.point(y[g],M[g]);o.lineEnd(),o.areaEnd()}f&&(y[h]=+n(m,h,d),M[h]=+e(m,h,d),o.point(i?+i(m,h,d):y[h],t?+t(m,h,d):M[h]))}if(E)return o=null,E+""||null}function u(){return Gh().defined(r).curve(a).context(s)}return c.x=function(d){return arguments.length?(n=typeof d=="function"?d:St(+d),i=null,c):n},c.x0=function(d){return arguments.length?(n=typeof d=="function"?d:St(+d),c):n},c.x1=function(d){return arguments.length?(i=d==null?null:typeof d=="function"?d:St(+d),c):i},c.y=function(d){return arguments.length?(e=typeof d=="function"?d:St(+d),t=null,c):e},c.y0=function(d){return arguments.length?(e=typeof d=="function"?d:St(+d),c):e},c.y1=function(d){return arguments.length?(t=d==null?null:typeof d=="function"?d:St(+d),c):t},c.lineX0=c.lineY0=function(){return u().x(n).y(e)},c.lineY1=function(){return u().x(n).y(t)},c.lineX1=function(){return u().x(i).y(e)},c.defined=function(d){return arguments.length?(r=typeof d=="function"?d:St(!!d),c):r},c.curve=function(d){return arguments.length?(a=d,s!=null&&(o=a(s)),c):a},c.context=function(d){return arguments.length?(d==null?s=o=null:o=a(s=d),c):s},c}function ys(){}function Wh(n,e,t){n._context.bezierCurveTo((2*n._x0+n._x1)/3,(2*n._y0+n._y1)/3,(n._x0+2*n._x1)/3,(n._y0+2*n._y1)/3,(n._x0+4*n._x1+e)/6,(n._y0+4*n._y1+t)/6)}function to(n){this._context=n}to.prototype={areaStart:function(){this._line=0},areaEnd:function(){this._line=NaN},lineStart:function(){this._x0=this._x1=this._y0=this._y1=NaN,this._point=0},lineEnd:function(){switch(this._point){case 3:Wh(this,this._x1,this._y1);case 2:this._context.lineTo(this._x1,this._y1);break}(this._line||this._line!==0&&this._point===1)&&this._context.closePath(),this._line=1-this._line},point:function(n,e){switch(n=+n,e=+e,this._point){case 0:this._point=1,this._line?this._context.lineTo(n,e):this._context.moveTo(n,e);break;case 1:this._point=2;break;case 2:this._point=3,this._context.lineTo((5*this._x0+this._x1)/6,(5*this._y0+this._y1)/6);default:Wh(this,n,e);break}this._x0=this._x1,this._x1=n,this._y0=this._y1,this._y1=e}};function $h(n,e){this._basis=new to(n),this._beta=e}$h.prototype={lineStart:function(){this._x=[],this._y=[],this._basis.lineStart()},lineEnd:function(){var n=this._x,e=this._y,t=n.length-1;if(t>0)for(var i=n[0],r=e[0],s=n[t]-i,a=e[t]-r,o=-1,l;++o<=t;)l=o/t,this._basis.point(this._beta*n[o]+(1-this._beta)*(i+l*s),this._beta*e[o]+(1-this._beta)*(r+l*a));this._x=this._y=null,this._basis.lineEnd()},point:function(n,e){this._x.push(+n),this._y.push(+e)}},(function n(e){function t(i){return e===1?new to(i):new $h(i,e)}return t.beta=function(i){return n(+i)},t})(.85);function Es(n,e,t){n._context.bezierCurveTo(n._x1+n._k*(n._x2-n._x0),n._y1+n._k*(n._y2-n._y0),n._x2+n._k*(n._x1-e),n._y2+n._k*(n._y1-t),n._x2,n._y2)}function no(n,e){this._context=n,this._k=(1-e)/6}no.prototype={areaStart:function(){this._line=0},areaEnd:function(){this._line=NaN},lineStart:function(){this._x0=this._x1=this._x2=this._y0=this._y1=this._y2=NaN,this._point=0},lineEnd:function(){switch(this._point){case 2:this._context.lineTo(this._x2,this._y2);break;case 3:Es(this,this._x1,this._y1);break}(this._line||this._line!==0&&this._point===1)&&this._context.closePath(),this._line=1-this._line},point:function(n,e){switch(n=+n,e=+e,this._point){case 0:this._point=1,this._line?this._context.lineTo(n,e):this._context.moveTo(n,e);break;case 1:this._point=2,this._x1=n,this._y1=e;break;case 2:this._point=3;default:Es(this,n,e);break}this._x0=this._x1,this._x1=this._x2,this._x2=n,this._y0=this._y1,this._y1=this._y2,this._y2=e}},(function n(e){function t(i){return new no(i,e)}return t.tension=function(i){return n(+i)},t})(0);function io(n,e){this._context=n,this._k=(1-e)/6}io.prototype={areaStart:ys,areaEnd:ys,lineStart:function(){this._x0=this._x1=this._x2=this._x3=this._x4=this._x5=this._y0=this._y1=this._y2=this._y3=this._y4=this._y5=NaN,this._point=0},lineEnd:function(){switch(this._point){case 1:{this._context.moveTo(this._x3,this._y3),this._context.closePath();break}case 2:{this._context.lineTo(this._x3,this._y3),this._context.closePath();break}case 3:{this.point(this._x3,this._y3),this.point(this._x4,this._y4),this.point(this._x5,this._y5);break}}},point:function(n,e){switch(n=+n,e=+e,this._point){case 0:this._point=1,this._x3=n,this._y3=e;break;case 1:this._point=2,this._context.moveTo(this._x4=n,this._y4=e);break;case 2:this._point=3,this._x5=n,this._y5=e;break;default:Es(this,n,e);break}this._x0=this._x1,this._x1=this._x2,this._x2=n,this._y0=this._y1,this._y1=this._y2,this._y2=e}},(function n(e){function t(i){return new io(i,e)}return t.tension=function(i){return n(+i)},t})(0);function ro(n,e){this._context=n,this._k=(1-e)/6}ro.prototype={areaStart:function(){this._line=0},areaEnd:function(){this._line=NaN},lineStart:function(){this._x0=this._x1=this._x2=this._y0=this._y1=this._y2=NaN,this._point=0},lineEnd:function(){(this._line||this._line!==0&&this._point===3)&&this._context.closePath(),this._line=1-this._line},point:function(n,e){switch(n=+n,e=+e,this._point){case 0:this._point=1;break;case 1:this._point=2;break;case 2:this._point=3,this._line?this._context.lineTo(this._x2,this._y2):this._context.moveTo(this._x2,this._y2);break;case 3:this._point=4;default:Es(this,n,e);break}this._x0=this._x1,this._x1=this._x2,this._x2=n,this._y0=this._y1,this._y1=this._y2,this._y2=e}},(function n(e){function t(i){return new ro(i,e)}return t.tension=function(i){return n(+i)},t})(0);function so(n,e,t){var i=n._x1,r=n._y1,s=n._x2,a=n._y2;if(n._l01_a>kh){var o=2*n._l01_2a+3*n._l01_a*n._l12_a+n._l12_2a,l=3*n._l01_a*(n._l01_a+n._l12_a);i=(i*o-n._x0*n._l12_2a+n._x2*n._l01_2a)/l,r=(r*o-n._y0*n._l12_2a+n._y2*n._l01_2a)/l}if(n._l23_a>kh){var c=2*n._l23_2a+3*n._l23_a*n._l12_a+n._l12_2a,u=3*n._l23_a*(n._l23_a+n._l12_a);s=(s*c+n._x1*n._l23_2a-e*n._l12_2a)/u,a=(a*c+n._y1*n._l23_2a-t*n._l12_2a)/u}n._context.bezierCurveTo(i,r,s,a,n._x2,n._y2)}function Xh(n,e){this._context=n,this._alpha=e}Xh.prototype={areaStart:function(){this._line=0},areaEnd:function(){this._line=NaN},lineStart:function(){this._x0=this._x1=this._x2=this._y0=this._y1=this._y2=NaN,this._l01_a=this._l12_a=this._l23_a=this._l01_2a=this._l12_2a=this._l23_2a=this._point=0},lineEnd:function(){switch(this._point){case 2:this._context.lineTo(this._x2,this._y2);break;case 3:this.point(this._x2,this._y2);break}(this._line||this._line!==0&&this._point===1)&&this._context.closePath(),this._line=1-this._line},point:function(n,e){if(n=+n,e=+e,this._point){var t=this._x2-n,i=this._y2-e;this._l23_a=Math.sqrt(this._l23_2a=Math.pow(t*t+i*i,this._alpha))}switch(this._point){case 0:this._point=1,this._line?this._context.lineTo(n,e):this._context.moveTo(n,e);break;case 1:this._point=2;break;case 2:this._point=3;default:so(this,n,e);break}this._l01_a=this._l12_a,this._l12_a=this._l23_a,this._l01_2a=this._l12_2a,this._l12_2a=this._l23_2a,this._x0=this._x1,this._x1=this._x2,this._x2=n,this._y0=this._y1,this._y1=this._y2,this._y2=e}},(function n(e){function t(i){return e?new Xh(i,e):new no(i,0)}return t.alpha=function(i){return n(+i)},t})(.5);function qh(n,e){this._context=n,this._alpha=e}qh.prototype={areaStart:ys,areaEnd:ys,lineStart:function(){this._x0=this._x1=this._x2=this._x3=this._x4=this._x5=this._y0=this._y1=this._y2=this._y3=this._y4=this._y5=NaN,this._l01_a=this._l12_a=this._l23_a=this._l01_2a=this._l12_2a=this._l23_2a=this._point=0},lineEnd:function(){switch(this._point){case 1:{this._context.moveTo(this._x3,this._y3),this._context.closePath();break}case 2:{this._context.lineTo(this._x3,this._y3),this._context.closePath();break}case 3:{this.point(this._x3,this._y3),this.point(this._x4,this._y4),this.point(this._x5,this._y5);break}}},point:function(n,e){if(n=+n,e=+e,this._point){var t=this._x2-n,i=this._y2-e;this._l23_a=Math.sqrt(this._l23_2a=Math.pow(t*t+i*i,this._alpha))}switch(this._point){case 0:this._point=1,this._x3=n,this._y3=e;break;case 1:this._point=2,this._context.moveTo(this._x4=n,this._y4=e);break;case 2:this._point=3,this._x5=n,this._y5=e;break;default:so(this,n,e);break}this._l01_a=this._l12_a,this._l12_a=this._l23_a,this._l01_2a=this._l12_2a,this._l12_2a=this._l23_2a,this._x0=this._x1,this._x1=this._x2,this._x2=n,this._y0=this._y1,this._y1=this._y2,this._y2=e}},(function n(e){function t(i){return e?new qh(i,e):new io(i,0)}return t.alpha=function(i){return n(+i)},t})(.5);function Yh(n,e){this._context=n,this._alpha=e}Yh.prototype={areaStart:function(){this._line=0},areaEnd:function(){this._line=NaN},lineStart:function(){this._x0=this._x1=this._x2=this._y0=this._y1=this._y2=NaN,this._l01_a=this._l12_a=this._l23_a=this._l01_2a=this._l12_2a=this._l23_2a=this._point=0},lineEnd:function(){(this._line||this._line!==0&&this._point===3)&&this._context.closePath(),this._line=1-this._line},point:function(n,e){if(n=+n,e=+e,this._point){var t=this._x2-n,i=this._y2-e;this._l23_a=Math.sqrt(this._l23_2a=Math.pow(t*t+i*i,this._alpha))}switch(this._point){case 0:this._point=1;break;case 1:this._point=2;break;case 2:this._point=3,this._line?this._context.lineTo(this._x2,this._y2):this._context.moveTo(this._x2,this._y2);break;case 3:this._point=4;default:so(this,n,e);break}this._l01_a=this._l12_a,this._l12_a=this._l23_a,this._l01_2a=this._l12_2a,this._l12_2a=this._l23_2a,this._x0=this._x1,this._x1=this._x2,this._x2=n,this._y0=this._y1,this._y1=this._y2,this._y2=e}},(function n(e){function t(i){return e?new Yh(i,e):new ro(i,0)}return t.alpha=function(i){return n(+i)},t})(.5);function jh(n){return n<0?-1:1}function Zh(n,e,t){var i=n._x1-n._x0,r=e-n._x1,s=(n._y1-n._y0)/(i||r<0&&-0),a=(t-n._y1)/(r||i<0&&-0),o=(s*r+a*i)/(i+r);return(jh(s)+jh(a))*Math.min(Math.abs(s),Math.abs(a),.5*Math.abs(o))||0}function Kh(n,e){var t=n._x1-n._x0;return t?(3*(n._y1-n._y0)/t-e)/2:e}function ao(n,e,t){var i=n._x0,r=n._y0,s=n._x1,a=n._y1,o=(s-i)/3;n._context.bezierCurveTo(i+o,r+o*e,s-o,a-o*t,s,a)}function oo(n){this._context=n}oo.prototype={areaStart:function(){this._line=0},areaEnd:function(){this._line=NaN},lineStart:function(){this._x0=this._x1=this._y0=this._y1=this._t0=NaN,this._point=0},lineEnd:function(){switch(this._point){case 2:this._context.lineTo(this._x1,this._y1);break;case 3:ao(this,this._t0,Kh(this,this._t0));break}(this._line||this._line!==0&&this._point===1)&&this._context.closePath(),this._line=1-this._line},point:function(n,e){var t=NaN;if(n=+n,e=+e,!(n===this._x1&&e===this._y1)){switch(this._point){case 0:this._point=1,this._line?this._context.lineTo(n,e):this._context.moveTo(n,e);break;case 1:this._point=2;break;case 2:this._point=3,ao(this,Kh(this,t=Zh(this,n,e)),t);break;default:ao(this,this._t0,t=Zh(this,n,e));break}this._x0=this._x1,this._x1=n,this._y0=this._y1,this._y1=e,this._t0=t}}},Object.create(oo.prototype).point=function(n,e){oo.prototype.point.call(this,e,n)};function yr(n,e){const t=document.createElement("a");t.href=URL.createObjectURL(e),t.download=n,document.body.append(t),t.click(),t.remove(),setTimeout(()=>URL.revokeObjectURL(t.href),1e4)}const lo={left:"#0b5fb0",right:"#b5500a"},co={left:"#6db3ff",right:"#ffa35c"},Ts="#ffffff",ho="#1a1a1e";function _m(n){const e=n.cloneNode(!0),t=n.viewBox.baseVal,i=document.createElementNS("http://www.w3.org/2000/svg","rect");i.setAttribute("x",String(t.x)),i.setAttribute("y",String(t.y)),i.setAttribute("width",String(t.width)),i.setAttribute("height",String(t.height)),i.setAttribute("fill",Ts),e.prepend(i),e.setAttribute("xmlns","http://www.w3.org/2000/svg"),e.setAttribute("color",ho),e.setAttribute("font-family","system-ui, 'DejaVu Sans', sans-serif");const r=900/Math.max(t.width,t.height);return e.setAttribute("width",String(Math.round(t.width*r))),e.setAttribute("height",String(Math.round(t.height*r))),e.removeAttribute("class"),(a=>a.replaceAll(co.left,lo.left).replaceAll(co.right,lo.right))(new XMLSerializer().serializeToString(e))}function uo(n,e){const t=n.viewBox.baseVal;return{svg:_m(n),width:e,height:e*t.height/t.width}}function vm(n,e,t){return{svg:`<svg xmlns="http://www.w3.org/2000/svg" width="${e}" height="${t}" viewBox="0 0 ${e} ${t}"><rect width="${e}" height="${t}" fill="${Ts}"/><image href="${n}" width="${e}" height="${t}"/></svg>`,width:e,height:t}}function xm(n){return n.replaceAll("&","&amp;").replaceAll("<","&lt;").replaceAll(">","&gt;")}function Sm(n,e){const t=[];for(const i of n.split(/\s+/)){const r=t.at(-1);r!==void 0&&r.length+1+i.length<=e?t[t.length-1]=`${r} ${i}`:t.push(i)}return t}function Jh(n,e,t){const r=40+Math.max(360,...e.map(c=>c.width));let s=20,a="";const o=(c,u,d)=>{for(const h of Sm(c,(r-40)/(.58*u)))s+=u,a+=`<text x="20" y="${s}" font-size="${u}" font-weight="${d}">${xm(h)}</text>`,s+=.35*u};o(n,16,700);for(const c of e)s+=8,a+=`<svg x="20" y="${s}" `+c.svg.slice(5).replace(/ width="[^"]*"/,` width="${c.width}"`).replace(/ height="[^"]*"/,` height="${c.height}"`),s+=c.height;o(t,12,400);const l=s+20;return`<svg xmlns="http://www.w3.org/2000/svg" width="${r}" height="${l}" viewBox="0 0 ${r} ${l}" color="${ho}" fill="${ho}" font-family="system-ui, 'DejaVu Sans', sans-serif"><rect width="${r}" height="${l}" fill="${Ts}"/>${a}</svg>`}async function bm(n){const e=new Image;return e.src=n,await e.decode(),e}function Mm(n){return new Promise((e,t)=>n.toBlob(i=>i?e(i):t(new Error("no picture")),"image/png"))}async function wm(n){const e=await bm("data:image/svg+xml;charset=utf-8,"+encodeURIComponent(n)),t=document.createElement("canvas");t.width=2*e.naturalWidth,t.height=2*e.naturalHeight;const i=t.getContext("2d");return i&&(i.fillStyle=Ts,i.fillRect(0,0,t.width,t.height),i.drawImage(e,0,0,t.width,t.height)),Mm(t)}const Qh=25.4;function Fn(n){return n==="um"?"µm":"thou"}function Er(n,e){return e==="um"?n:n/Qh}function ym(n,e,t=0,i=!1){const r=Er(n,e),s=Math.abs(r).toFixed(e==="um"?t:t+2),a=Number(s)===0;return(r<0&&!a?"-":i&&!a?"+":"")+s}function eu(n,e,t,i,r=[]){const s=n.cellAt(t,i);if(!s)return null;const a=n.index(s.row,s.column),o=c=>n.field(c)[a]??NaN,l=o("zone");return{...s,thickness_um:o("thickness"),u95_um:o("u95"),difference_um:o("difference"),u95_difference_um:o("u95_difference"),zone:l>=0?e[l]??null:null,fault:r.length>0?r[o("fault")]??null:null}}function Em(n,e,t,i){const s=n.field("thickness"),a=[];for(let o=0;o<n.grid.rows&&n.x_mm(o)<i;o++){let l=0,c=0;for(let u=0;u<8;u++){const h=(e+(u+.5)/8*(t-e))*(n.halfWidth_mm[o]??0)/n.grid.cell_mm+.5*n.grid.columns-.5,p=Math.floor(h);if(p<0||p+1>=n.grid.columns)continue;const[g,_]=[s[n.index(o,p)]??NaN,s[n.index(o,p+1)]??NaN],m=g+(h-p)*(_-g);Number.isNaN(m)||(l+=m,c++)}c>0&&a.push([n.x_mm(o),l/c])}return a}function Tm(n,e){const t=Math.min(n.grid.rows-1,Math.max(0,Math.floor(e/n.grid.cell_mm))),i=n.field("thickness"),r=[],s=[];for(let a=n.grid.columns/2;a<n.grid.columns;a++){const o=i[n.index(t,a)]??NaN,l=i[n.index(t,n.mirrored(a))]??NaN;Number.isNaN(o)||s.push([n.y_mm(a),o]),Number.isNaN(l)||r.push([n.y_mm(a),l])}return{left:r,right:s}}function Am(n){const e=n.field("thickness"),t=n.field("u95"),i=["x_mm,y_mm,thickness_mm,u95_mm"];for(let r=0;r<n.grid.rows;r++)for(let s=0;s<n.grid.columns;s++){const a=e[n.index(r,s)]??NaN;if(Number.isNaN(a))continue;const o=t[n.index(r,s)]??NaN;i.push([n.x_mm(r).toFixed(3),n.y_mm(s).toFixed(3),(a/1e3).toFixed(5),(o/1e3).toFixed(5)].join(","))}return i.join(`
`)+`
`}const fo={language:["English","Deutsch"],decimalSign:[".",","],view:["View","Ansicht"],surface:["Turn it","Drehen"],flat:["Flat","Flach"],folded:["Folded","Gefaltet"],colours:["Colours show","Farben zeigen"],leftRight:["left against right","links gegen rechts"],thickness:["thickness","Dicke"],target:["against the target","gegen das Ziel"],sureness:["how sure (U95)","wie sicher (U95)"],stiffness:["where cane holds stiffness","wo Holz die Steifigkeit hält"],balance:["where cane holds balance","wo Holz das Gleichgewicht hält"],plan:["where to scrape","wo zu schaben ist"],removed:["what came off","was weggenommen ist"],beforeAfter:["before and after","vorher und nachher"],height:["Height times","Höhe mal"],fit:["Fit","Einpassen"],turnLeft:["Turn left","Nach links drehen"],turnRight:["Turn right","Nach rechts drehen"],tiltUp:["Tilt up","Hochkippen"],tiltDown:["Tilt down","Herunterkippen"],zoomIn:["Closer","Näher"],zoomOut:["Farther","Weiter"],movement:["Movement","Bewegung"],still:["still","keine"],bent:["bent by the lip","von der Lippe gebogen"],mode:["mode","Mode"],bending:["bending","Biegung"],twisting:["twisting","Verdrehung"],extent:["Show","Zeige"],vamp:["the vamp","den Ausstich"],whole:["the whole reed","das ganze Blatt"],grid:["mm grid","mm-Raster"],zones:["zones","Zonen"],wipe:["Before on the left of the line, after on the right. Line at","Links der Linie vorher, rechts nachher. Linie bei"],before:["before","vorher"],after:["after","nachher"],keys:["Keys: arrows move the cursor (Shift: 1 mm). While turning: W A S D turn, + and - zoom, F fits, [ and ] change the height.","Tasten: Pfeile bewegen den Zeiger (Umschalt: 1 mm). Beim Drehen: W A S D drehen, + und - zoomen, F passt ein, [ und ] ändern die Höhe."],noSurface:["This browser cannot draw in three dimensions; the flat map shows the same.","Dieser Browser zeichnet nicht räumlich; die flache Karte zeigt dasselbe."],unknown:["grey stripes: the scan cannot tell","graue Streifen: der Scan weiß es nicht"],pale:["pale: a single place says nothing","blass: eine Stelle allein sagt nichts"],dots:["dots: less","Punkte: weniger"],overPartner:["over its partner on the other side","mehr als die Stelle gegenüber"],overTarget:["over the target","mehr als das Ziel"],offThere:["off","weg"],offOneSide:["off, more than on the other side","weg, mehr als auf der anderen Seite"],takeOff:["to take off","wegzunehmen"],perTen_stiffness:["stiffness, for 10 µm off 1 mm²","Steifigkeit, für 10 µm weniger auf 1 mm²"],perTen_balance:["right over left, for 10 µm off 1 mm²","rechts über links, für 10 µm weniger auf 1 mm²"],fromTip:["mm from the tip","mm von der Spitze"],leftOf:["mm left","mm links"],rightOf:["mm right","mm rechts"],onCentre:["on the centreline","auf der Mittellinie"],notSeen:["not seen by the scan","vom Scan nicht gesehen"],zone:["zone","Zone"],rightMinusLeft:["right minus left here","rechts minus links hier"],zoneMean:["zone's mean","Mittel der Zone"],within:["surely within tolerance","sicher in der Toleranz"],outside:["surely outside tolerance","sicher außerhalb"],"cannot tell":["too close to the tolerance to call","zu nah an der Toleranz, um es zu sagen"],tip:["tip","Spitze"],front:["front","vorn"],middle:["middle","Mitte"],back:["back","hinten"],centre:["centre","Mittelstreifen"],flank:["flank","Flanke"],rail:["rail","Rand"],left:["left","links"],right:["right","rechts"],across:["Across the reed","Quer über das Blatt"],acrossAt:["Across the reed, mm from the tip:","Quer über das Blatt, mm von der Spitze:"],along:["Along the reed","Längs des Blatts"],centreCurve:["centre","Mitte"],fromCentre:["distance from the centreline, mm","Abstand von der Mittellinie, mm"],fromTipAxis:["distance from the tip, mm","Abstand von der Spitze, mm"],leftFolded:["left, folded over","links, herübergefaltet"],rightSide:["right","rechts"],leftRail:["left rail","linker Rand"],rightRail:["right rail","rechter Rand"],targetBand:["target's band","Band des Ziels"],grey:["grey","grau"],dashed:["dashed","gestrichelt"],dotted:["dotted","gepunktet"],closing:["How it closes on the mouthpiece","Wie es auf der Bahn schließt"],pressure:["pressure, kPa","Druck, kPa"],opening:["opening at the tip, mm","Öffnung an der Spitze, mm"],compliance:["How easily it gives","Wie leicht es nachgibt"],complianceAxis:["mm per newton","mm je Newton"],bars:["Bending before and after","Biegung vorher und nachher"],barsKey:["outline: before; full: after; grey: tolerance","Umriss: vorher; voll: nachher; grau: Toleranz"],guide:["Guide me at the bench","Am Werktisch anleiten"],resume:["Go on where you stopped","Weiter, wo Sie aufhörten"],close:["Close","Schließen"],beforeYouScrape:["Before you scrape","Bevor Sie schaben"],caution_1:["Blades are sharp: cut away from your fingers, on a firm flat support; keep them away from children.","Klingen sind scharf: von den Fingern weg schneiden, auf fester, ebener Unterlage; von Kindern fernhalten."],caution_2:["Don't breathe cane dust: work damp, wear a mask, don't blow it off, wipe it up wet.","Holzstaub nicht einatmen: feucht arbeiten, Maske tragen, nicht wegblasen, nass aufwischen."],caution_3:["Throw a mouldy reed away; don't share unwashed reeds.","Ein schimmliges Blatt wegwerfen; ungewaschene Blätter nicht weitergeben."],caution_4:["Rinse hands and reed after abrasive paper: grit on a reed goes into the mouth.","Hände und Blatt nach dem Schleifen abspülen: Schleifkorn auf dem Blatt kommt in den Mund."],caution_5:["Leave the very tip alone. Take little, play between steps: cane cannot be put back.","Die äußerste Spitze nicht anrühren. Wenig wegnehmen, zwischendurch spielen: Holz kommt nicht zurück."],caution_6:["Ask a teacher or technician when unsure; local rules come first.","Im Zweifel Lehrkraft oder Fachwerkstatt fragen; örtliche Regeln gehen vor."],understood:["I have read this","Gelesen"],rollingTitle:["First the rolling test","Zuerst die Rollprobe"],rollingText:["Wet the reed, play, and roll the mouthpiece so that your lip damps one side at a time. Does the side to be scraped speak less freely?","Das Blatt anfeuchten, spielen und das Mundstück so rollen, dass die Lippe je eine Seite dämpft. Spricht die Seite, die geschabt werden soll, schlechter an?"],side_left:["Side to be scraped first: left","Zuerst zu schaben: links"],side_right:["Side to be scraped first: right","Zuerst zu schaben: rechts"],rollingYes:["Yes, go on","Ja, weiter"],rollingNo:["No, or not sure","Nein oder unsicher"],rollingStop:["Then take nothing off: cane need not be as stiff as it is thick. Scan and test again another day.","Dann nichts wegnehmen: Holz ist nicht so steif, wie es dick ist. Scan und Probe an einem anderen Tag wiederholen."],rollingElse:["Then go on. If not, take nothing off: cane need not be as stiff as it is thick. Repeat the scan and the test.","Dann weiter. Wenn nicht, nichts wegnehmen: Holz ist nicht so steif, wie es dick ist. Scan und Probe wiederholen."],unchecked:["Left and right are as the scanner gives them; nobody has checked that it does not mirror. Once, stick a scrap of tape on the right rail, scan, and see it on the right.","Links und rechts sind, wie der Scanner sie liefert; niemand hat geprüft, ob er spiegelt. Einmal ein Stück Klebeband auf den rechten Rand kleben, scannen und nachsehen, ob es rechts ist."],step:["Step","Schritt"],where:["{place}, {from} to {to} mm from the tip","{place}, {from} bis {to} mm von der Spitze"],place_left_rail:["left rail","linker Rand"],place_right_rail:["right rail","rechter Rand"],place_left_flank:["left flank","linke Flanke"],place_right_flank:["right flank","rechte Flanke"],place_left_centre:["left centre","links der Mitte"],place_right_centre:["right centre","rechts der Mitte"],faultThick:["on average {size} thicker than the {side}","im Mittel {size} dicker als {side}"],faultThin:["on average {size} thinner than the {side}","im Mittel {size} dünner als {side}"],stopEvery:["Stop after every {n} strokes, wet the reed and play.","Alle {n} Striche aufhören, das Blatt anfeuchten und spielen."],stopEveryOne:["Stop after every stroke, wet the reed and play.","Nach jedem Strich aufhören, das Blatt anfeuchten und spielen."],goOnBalance:["Go on only while this side still speaks less freely.","Nur weiter, solange diese Seite noch schlechter anspricht."],goOnSofter:["Go on only while it still plays harder than you want.","Nur weiter, solange es noch schwerer spielt als gewünscht."],stopForGood:["Stop for good after {n} strokes.","Nach {n} Strichen ist Schluss."],stopForGoodOne:["Stop for good after 1 stroke.","Nach einem Strich ist Schluss."],purpose_balance:["to match the other side","damit es der anderen Seite gleicht"],purpose_cane:["because the cane is stiffer on this side","weil das Holz auf dieser Seite steifer ist"],purpose_bending:["because this side bends more stiffly, though the map finds the cane even here","weil sich diese Seite schwerer biegt, obwohl die Karte hier gleiches Holz findet"],purpose_target:["to come nearer to your target","um Ihrem Ziel näher zu kommen"],purpose_softer:["to make it softer","um es leichter zu machen"],thenScan:["After the last step let the reed dry as it was and scan it again.","Nach dem letzten Schritt das Blatt trocknen lassen wie zuvor und neu scannen."],alike:["Both sides speak alike: stop here","Beide Seiten sprechen gleich an: aufhören"],softEnough:["It plays as I want: stop here","Es spielt wie gewünscht: aufhören"],vetoed:["Your rolling test said: take nothing off","Ihre Rollprobe sagte: nichts wegnehmen"],takeNothingOff:["Take nothing off","Nichts wegnehmen"],tipUp:["tip up, vamp towards you","Spitze oben, Ausstich zu Ihnen"],of:["of","von"],strokes:["light strokes along the fibre","leichte Striche längs der Faser"],stroke:["light stroke along the fibre","leichter Strich längs der Faser"],about:["about","etwa"],depth:["in all","insgesamt"],whenToStop:["Stop and test","Aufhören und prüfen"],done:["All strokes done","Alle Striche getan"],skip:["Skip","Überspringen"],undo:["Undo","Zurück"],marked_done:["done","fertig"],marked_skipped:["skipped","übersprungen"],scanAgainTitle:["Now scan again","Jetzt neu scannen"],scanAgain:["Let the reed dry to the state of the first scan, scan it again, and compare: the picture of what came off shows where the blade was, and what a stroke of your hand takes.","Das Blatt trocknen lassen wie beim ersten Scan, neu scannen und vergleichen: Das Bild zeigt, wo die Klinge war und was ein Strich Ihrer Hand wegnimmt."],nothingDone:["Nothing was marked done: nothing to compare yet.","Nichts ist als fertig markiert: noch nichts zu vergleichen."],dropNew:["Drop the new scan","Den neuen Scan ablegen"],startOver:["Start over","Von vorn"],trueSize:["Draw at true size","In wahrer Größe zeichnen"],setScale:["Set this screen's scale","Maßstab des Bildschirms setzen"],cardText:["Hold a bank card (85.60 mm wide) against the screen and make the frame fit it.","Eine Bankkarte (85,60 mm breit) an den Bildschirm halten und den Rahmen anpassen."],cardWidth:["Width of the frame","Breite des Rahmens"],save:["Save","Speichern"],units:["Lengths in","Längen in"],um:["micrometres","Mikrometer"],thou:["thousandths of an inch","Tausendstel Zoll"],look:["Look","Aussehen"],asSystem:["as the system","wie das System"],light:["light","hell"],dark:["dark","dunkel"],languageLabel:["Language","Sprache"],save_as:["Save this view","Diese Ansicht speichern"],picture:["Picture (PNG)","Bild (PNG)"],drawing:["Drawing (SVG)","Zeichnung (SVG)"],table:["Table (CSV)","Tabelle (CSV)"],template:["Template (PDF)","Schablone (PDF)"],print:["Print","Drucken"],tools:["Units, look, language","Einheiten, Aussehen, Sprache"],whatToDo:["What to do","Was zu tun ist"],seeIt:["See it","Ansehen"],details_balance:["Left against right, zone by zone","Links gegen rechts, Zone für Zone"],details_target:["Against the target","Gegen das Ziel"],details_bending:["How it bends","Wie es sich biegt"],details_figures:["Pictures and figures of bending","Bilder und Zahlen zur Biegung"],details_clip:["If it were clipped instead","Wenn es gekürzt würde"],details_cut:["Which cut it is","Welcher Schnitt es ist"],details_sure:["How sure, and why","Wie sicher und warum"],details_record:["Record","Protokoll"],details_done:["Planned and done","Geplant und getan"],whatIsLeft:["What is left","Was bleibt"],allReeds:["All reeds","Alle Blätter"],homeTitle:["Your reeds","Ihre Blätter"],drop:["Drop a scan here, or choose a file","Einen Scan hier ablegen oder eine Datei wählen"],dropHint:["PLY, PCD, XYZ, CSV, STL, OBJ, X3P or SDF. It goes only to the computer that runs canewise.","PLY, PCD, XYZ, CSV, STL, OBJ, X3P oder SDF. Er geht nur an den Rechner, auf dem canewise läuft."],moisture:["The reed is","Das Blatt ist"],state_unknown:["of unknown moisture","unbekannt feucht"],state_dry:["dry","trocken"],state_wet:["wet","nass"],rolling:["Rolling test","Rollprobe"],"rolling_not-done":["not done yet","noch nicht gemacht"],rolling_left:["left speaks less freely","links spricht schlechter an"],rolling_right:["right speaks less freely","rechts spricht schlechter an"],rolling_even:["both the same","beide gleich"],uploading:["sending","wird gesendet"],waiting:["waiting for its turn","wartet"],cancel:["Cancel","Abbrechen"],cancelled:["cancelled","abgebrochen"],finished:["measured","gemessen"],noFolders:["A folder cannot be dropped here: measure folders of frames with 'canewise measure'.","Ordner lassen sich hier nicht ablegen: Ordner mit Aufnahmen mit 'canewise measure' messen."],dismiss:["Dismiss","Ausblenden"],open:["Open","Öffnen"],none:["No reed here yet.","Noch kein Blatt."],compareTwo:["Compare the two marked reeds","Die zwei markierten Blätter vergleichen"],otherWay:["The other way round","Andersherum"],compareHint:["Mark two scans of one reed, the earlier and the later.","Zwei Scans eines Blatts markieren, den früheren und den späteren."],mark:["compare","vergleichen"],strokesMade:["Strokes that you made, of those told","Striche, die Sie gemacht haben, von den genannten"],countAgain:["Count again","Neu rechnen"],keepHand:["Count with this hand from now on","Ab jetzt mit dieser Hand rechnen"],handKept:["What a stroke of yours takes is kept: the next scans are planned with it.","Was ein Strich von Ihnen nimmt, ist gemerkt: Die nächsten Scans werden damit geplant."],lost:["The connection to canewise was lost. Is it still running?","Die Verbindung ist weg. Läuft canewise noch?"]},ri=["en","de"];function po(n){return Object.hasOwn(fo,n)}function Tr(n,e){return fo[e][ri.indexOf(n)]??fo[e][0]}const Rm=[["{w}: the {w2} is on average {n} µm thicker than the other side (tolerance {n2} µm).","{w}: {w2} ist im Mittel {n} µm dicker als die andere Seite (Toleranz {n2} µm)."],["{w}: the {w2} is on average {n} µm thicker than the {w3} between {n2} and {n3} mm from the tip (tolerance {n4} µm).","{w}: {w2} im Mittel {n} µm dicker als {w3} zwischen {n2} und {n3} mm von der Spitze (Toleranz {n4} µm)."],["{w}: the {w2} is on average {n} µm thinner than the {w3} between {n2} and {n3} mm from the tip (tolerance {n4} µm).","{w}: {w2} im Mittel {n} µm dünner als {w3} zwischen {n2} und {n3} mm von der Spitze (Toleranz {n4} µm)."],["Your target says that this side is thin, not the other thick.","Ihr Ziel sagt, dass diese Seite zu dünn ist, nicht die andere zu dick."],["The rest of this reed says that this side is thin, not the other thick.","Das übrige Blatt sagt, dass diese Seite zu dünn ist, nicht die andere zu dick."],["{w}: left and right agree within tolerance everywhere.","{w}: Links und rechts gleichen sich überall innerhalb der Toleranz."],["{w}: left and right agree within tolerance where they can be seen.","{w}: Links und rechts gleichen sich innerhalb der Toleranz, soweit sie zu sehen sind."],["{w}: nothing is surely out of balance, but this scan cannot tell everywhere.","{w}: Nichts ist sicher aus dem Gleichgewicht, aber dieser Scan kann es nicht überall sagen."],["The tip is chipped.","Die Spitze ist beschädigt."],["A scan like this shows left-right differences of {n} µm or more at the tip and of {n2} µm or more elsewhere, 95 times in 100.","Ein solcher Scan zeigt Unterschiede zwischen links und rechts an der Spitze ab {n} µm und sonst ab {n2} µm, 95-mal in 100."],["That holds if the reed lies flat to {n} µm: lay it down again and scan once more to be sure.","Das gilt, wenn das Blatt auf {n} µm eben aufliegt: legen Sie es neu auf und scannen Sie noch einmal, um sicher zu sein."],["This counts how differently the reed lay in the scans.","Darin ist eingerechnet, wie verschieden das Blatt in den Scans auflag."],["In {n} of {n2} zones it is too coarse ever to prove balance.","In {n} von {n2} Zonen ist er zu grob, um Gleichgewicht je zu beweisen."],["Take nothing off yet: the reed lay tilted in one of the scans. Wipe the plate and the table, lay the reed down again and scan it anew.","Noch nichts wegnehmen: In einem der Scans lag das Blatt schief. Wischen Sie Platte und Tisch ab, legen Sie das Blatt neu auf und scannen Sie es noch einmal."],["Take nothing off: left and right agree within tolerance wherever the scan shows them. Scraping does not mend a chipped tip.","Nichts wegnehmen: Links und rechts gleichen sich innerhalb der Toleranz, wo der Scan sie zeigt. Schaben hilft einer beschädigten Spitze nicht."],["Take nothing off: left and right agree everywhere within tolerance.","Nichts wegnehmen: Links und rechts gleichen sich überall innerhalb der Toleranz."],["Take nothing off: nothing is surely out of balance, but this scan cannot tell everywhere.","Nichts wegnehmen: Nichts ist sicher aus dem Gleichgewicht, aber dieser Scan kann es nicht überall sagen."],["If anything, the {w} is thick, by {n} µm: scan again, more finely if you can.","Wenn überhaupt, ist hier zu viel: {w}, um {n} µm. Neu scannen, möglichst feiner."],["Take nothing off: what is out of balance lies where cane must stay (heart, bark or the very tip) or is smaller than this scan can steer.","Nichts wegnehmen: Was aus dem Gleichgewicht ist, liegt dort, wo Holz bleiben muss (Herz, Rinde oder die äußerste Spitze), oder ist kleiner, als dieser Scan steuern kann."],["Take nothing off: one side is thicker or stiffer by its shape, but in your rolling test both speak alike. Cane need not be as stiff as it is thick. If in doubt repeat the scan and the test.","Nichts wegnehmen: Der Form nach ist eine Seite dicker oder steifer, aber in Ihrer Rollprobe sprechen beide gleich an. Holz ist nicht so steif, wie es dick ist. Im Zweifel Scan und Probe wiederholen."],["Take nothing off: the side that is thicker or stiffer by its shape is not the one that speaks less freely in your rolling test. Cane need not be as stiff as it is thick. Repeat the scan and the test.","Nichts wegnehmen: Die Seite, die der Form nach dicker oder steifer ist, ist nicht die, die in Ihrer Rollprobe schlechter anspricht. Holz ist nicht so steif, wie es dick ist. Scan und Probe wiederholen."],["Take nothing off: balancing this reed would leave it softer than you want.","Nichts wegnehmen: Im Gleichgewicht wäre dieses Blatt leichter als gewünscht."],["Take nothing off: the {w} between {n} and {n2} mm from the tip is thin, and balancing this reed would leave it softer than you want.","Nichts wegnehmen: Zwischen {n} und {n2} mm von der Spitze ist es hier zu dünn: {w}. Im Gleichgewicht wäre dieses Blatt leichter als gewünscht."],["This reed cannot be balanced by scraping: its {w} between {n} and {n2} mm from the tip is so thin that taking the other side down to it would leave the reed too soft.","Dieses Blatt lässt sich durch Schaben nicht ausgleichen. Zwischen {n} und {n2} mm von der Spitze ist es hier zu dünn: {w}. Wäre die andere Seite ebenso dünn, würde das Blatt zu leicht."],["This reed cannot be balanced by scraping: the stiffer side would become too thin.","Dieses Blatt lässt sich durch Schaben nicht ausgleichen: Die steifere Seite würde zu dünn."],["Take nothing off: scraping makes a reed softer, never harder.","Nichts wegnehmen: Schaben macht ein Blatt leichter, nie schwerer."],["Take nothing off: on this scan no cut that makes the reed softer is large enough to be steered. Scan again, more finely if you can.","Nichts wegnehmen: Mit diesem Scan lässt sich kein Schnitt steuern, der das Blatt leichter machte. Neu scannen, möglichst feiner."],["The thin side cannot be mended, so this takes cane off the sound side: the reed becomes softer.","Die dünne Seite lässt sich nicht ausbessern, darum wird von der guten Seite abgenommen: Das Blatt wird leichter."],["{n} step; first the {w}, {n2} to {n3} mm from the tip, about {n4} µm, some {n5} light stroke, then play.","{n} Schritt: {w}, {n2} bis {n3} mm von der Spitze, etwa {n4} µm, rund {n5} leichter Strich, dann spielen."],["{n} steps; first the {w}, {n2} to {n3} mm from the tip, about {n4} µm, some {n5} light stroke, then play.","{n} Schritte; zuerst {w}, {n2} bis {n3} mm von der Spitze, etwa {n4} µm, rund {n5} leichter Strich, dann spielen."],["{n} step; first the {w}, {n2} to {n3} mm from the tip, about {n4} µm, some {n5} light strokes, then play.","{n} Schritt: {w}, {n2} bis {n3} mm von der Spitze, etwa {n4} µm, rund {n5} leichte Striche, dann spielen."],["{n} steps; first the {w}, {n2} to {n3} mm from the tip, about {n4} µm, some {n5} light strokes, then play.","{n} Schritte; zuerst {w}, {n2} bis {n3} mm von der Spitze, etwa {n4} µm, rund {n5} leichte Striche, dann spielen."],["Lay it aside: cane moves over the first weeks.","Weglegen: Holz arbeitet in den ersten Wochen."],["Give it to a player who wants it softer, or keep it for practice.","Jemandem geben, der es leichter mag, oder zum Üben behalten."],["Play a harder reed: the next step of your usual cut.","Ein schwereres Blatt spielen: die nächste Stärke Ihres gewohnten Schnitts."],["Clip it, 0.1 mm at a time, and play in between: {n} mm off makes it about {n2} % stiffer, with {n3} mm of cane at the tip.","Kürzen, jeweils 0,1 mm, und zwischendurch spielen: {n} mm weniger macht es etwa {n2} % steifer, mit {n3} mm Holz an der Spitze."],["Clip 0.1 to 0.5 mm off the tip: the tip moves into thicker cane.","Die Spitze um 0,1 bis 0,5 mm kürzen: Sie rückt in dickeres Holz."],["That does not balance it: scan again afterwards.","Das gleicht es nicht aus: danach neu scannen."],["The heart sits towards the {w} side. It is left alone, so that part of the imbalance stays.","Das Herz sitzt nicht in der Mitte, sondern {w}. Es bleibt unberührt, und damit dieser Teil des Ungleichgewichts."],["Places on the other side are left alone because your rolling test spoke for one side only. Scan again after these steps.","Stellen auf der anderen Seite bleiben unberührt, weil Ihre Rollprobe nur für eine Seite sprach. Nach diesen Schritten neu scannen."],["The fault is the {w}: it is thin between {n} and {n2} mm from the tip. Cane cannot be put back, so these steps take the sound side down to it, and the reed becomes softer.","Der Fehler liegt hier: {w}, zwischen {n} und {n2} mm von der Spitze zu dünn. Holz lässt sich nicht ansetzen; darum nehmen diese Schritte die gesunde Seite ebenso weit herunter, und das Blatt wird leichter."],["Between {n} and {n2} mm from the tip this reed does not tell whether the {w} is thick or the {w2} thin. The steps level them at the thinner one.","Zwischen {n} und {n2} mm von der Spitze sagt dieses Blatt nicht, was falsch ist: zu dick ({w}) oder zu dünn ({w2}). Die Schritte gleichen beide auf das dünnere Maß aus."],["{n} of {n2} steps lies where the map finds the cane even: cane comes off there because the reed bends unevenly.","{n} von {n2} Schritten liegt, wo die Karte gleiches Holz findet: Dort kommt Holz weg, weil sich das Blatt ungleich biegt."],["{n} of {n2} steps lie where the map finds the cane even: cane comes off there because the reed bends unevenly.","{n} von {n2} Schritten liegen, wo die Karte gleiches Holz findet: Dort kommt Holz weg, weil sich das Blatt ungleich biegt."],["Let every stroke run out softly at both ends of its place.","Jeden Strich an beiden Enden seiner Stelle weich auslaufen lassen."],["Where a place ends at the rim, let the tool hang over it: a wide tool cuts no farther in then.","Wo eine Stelle am Rand endet, das Werkzeug überstehen lassen: Ein breites Werkzeug schabt dann nicht weiter innen."],["So near to the tip's edge little comes off in one session, because a slip must not reach it. Scan again after these steps and see what is left.","So nahe an der Kante der Spitze kommt auf einmal nur wenig weg, weil kein Ausrutscher sie treffen darf. Nach diesen Schritten neu scannen und sehen, was bleibt."],["By its shape this reed bends evenly in spite of the difference in thickness: if the rolling test finds both sides alike, leave it as it is.","Der Form nach biegt sich dieses Blatt trotz des Dickenunterschieds gleichmäßig: Findet die Rollprobe beide Seiten gleich, lassen Sie es, wie es ist."],["How this reed bends is not known, so the steps level its thickness and nothing more.","Wie sich dieses Blatt biegt, ist nicht bekannt; die Schritte gleichen nur seine Dicke aus."],["Your rolling test and the shape together speak for cane that is about {n} % stiffer on the {w}; the steps count that in.","Ihre Rollprobe und die Form zusammen sprechen für Holz, das auf einer Seite etwa {n} % steifer ist ({w}); die Schritte rechnen das ein."],["More than {n} µm is never taken in one go: do these steps, scan again, and see what is left.","Mehr als {n} µm werden nie auf einmal weggenommen: diese Schritte tun, neu scannen und sehen, was bleibt."],["This reed is far out, and no session takes more than {n} µm off a place, or more than a little where the cane is not too thick: do these steps, scan again, and think of asking a teacher or technician, or of laying it aside.","Dieses Blatt liegt weit daneben, und auf einmal kommen nie mehr als {n} µm von einer Stelle weg, oder mehr als ein wenig, wo das Holz nicht zu dick ist: diese Schritte tun, neu scannen und überlegen, ob Sie Lehrkraft oder Fachwerkstatt fragen oder es weglegen."],["Softer was asked for, but how this reed bends is not known, and so neither what would make it softer.","Leichter war gewünscht; aber wie sich dieses Blatt biegt, ist nicht bekannt, und damit auch nicht, was es leichter machte."],["That is as far as one session goes towards softer. Scan and play before you go on.","Weiter geht es auf einmal nicht in Richtung leichter. Vor dem Weitermachen scannen und spielen."],["All the way to your target would make the reed softer than you want: the steps stop before that.","Ganz bis zu Ihrem Ziel würde das Blatt leichter als gewünscht: Die Schritte hören vorher auf."],["Scraping never makes a reed harder: these steps only balance it.","Schaben macht ein Blatt nie schwerer: Diese Schritte gleichen es nur aus."],["The tip's edge is chipped. Clipping may remove the chip; scraping will not. Lay the reed aside if in doubt.","Die Kante der Spitze ist beschädigt. Kürzen kann das beheben, Schaben nicht. Im Zweifel das Blatt weglegen."],["In {n} of {n2} zones this reed is already thinner than your target: scraping leads further away from it there.","In {n} von {n2} Zonen ist dieses Blatt schon dünner als Ihr Ziel: Dort führt Schaben weiter davon weg."],["Strokes count {n} µm each, {w}. Lay the template (template.pdf) beside the reed.","Ein Strich zählt {n} µm, {w}. Die Schablone (template.pdf) neben das Blatt legen."],["The table is flat","Die Unterseite ist eben"],["The table is warped","Die Unterseite ist verzogen"],["Whether the table is flat this scan cannot tell","Ob die Unterseite eben ist, kann dieser Scan nicht sagen"],["Dries flat? Bow {n} ±{n2} µm, cup {n3} ±{n4} µm and twist {n5} ±{n6} µm against a tolerance of {n7} µm; a plus of bow or cup is hollow.","Trocknet es eben? Längs gewölbt {n} ±{n2} µm, quer gewölbt {n3} ±{n4} µm und verdreht {n5} ±{n6} µm bei einer Toleranz von {n7} µm; plus heißt hohl."],["Let it rest and dry flat on slats and scan again; flatten the table before judging the vamp.","Ruhen und flach auf Leisten trocknen lassen und neu scannen; die Unterseite ebnen, bevor der Ausstich beurteilt wird."],["By its shape the {w} side is {n} % stiffer at the tip.","Der Form nach ist eine Seite an der Spitze {n} % steifer: {w}."],["By its shape the {w} side is {n} % stiffer under the lip.","Der Form nach ist eine Seite unter der Lippe {n} % steifer: {w}."],["By its shape it bends evenly: right over left {n} % at the tip, {n2} % under the lip ({n3} % tolerated).","Der Form nach biegt es sich gleichmäßig: rechts über links {n} % an der Spitze, {n2} % unter der Lippe ({n3} % toleriert)."],["Whether it bends evenly is too close to call: tip {n} ± {n2} %, right over left ({n3} % tolerated).","Ob es sich gleichmäßig biegt, ist zu knapp: Spitze {n} ± {n2} %, rechts über links ({n3} % toleriert)."],["Cane that is even in shape need not be even in stiffness: the rolling test decides.","Holz von gleichmäßiger Form ist nicht immer gleichmäßig steif: Die Rollprobe entscheidet."],["{n} N/mm under the lip. How hard that plays cannot be said: cane differs, and you have named no reed of yours to compare with.","{n} N/mm unter der Lippe. Wie schwer das spielt, lässt sich nicht sagen: Holz ist verschieden, und Sie haben kein eigenes Blatt zum Vergleich genannt."],["Measure a reed that suits you and mark it with 'canewise player mark'; from then on every reed is placed against it.","Messen Sie ein Blatt, das Ihnen passt, und merken Sie es mit 'canewise player mark' vor; von da an wird jedes Blatt daran gemessen."],["By its shape about {w}; with what cane can do, {w2} to {w3}.","Der Form nach etwa {w}; mit dem, was Holz ausmachen kann, {w2} bis {w3}."],["Your marked reeds contradict each other: what you call harder is not stiffer. The size of a half strength is assumed instead.","Ihre vorgemerkten Blätter widersprechen sich: Was Sie schwerer nennen, ist nicht steifer. Die Größe einer halben Stärke ist stattdessen angenommen."],["The size of a half strength is assumed until you mark more reeds.","Die Größe einer halben Stärke ist angenommen, bis Sie mehr Blätter vormerken."],["{n} of your marked reeds is not counted: scanned {w}, and this one {w2}.","{n} Ihrer vorgemerkten Blätter zählt nicht: {w} gescannt, und dieses {w2}."],["{n} of your marked reeds are not counted: scanned {w}, and this one {w2}.","{n} Ihrer vorgemerkten Blätter zählen nicht: {w} gescannt, und dieses {w2}."],["That is where you want it, as far as shape can tell.","Das ist, wo Sie es haben wollen, soweit die Form es sagt."],["Harder than you want: if it plays airy and slow to speak, it can be taken down, or take the next softer step.","Schwerer als gewünscht: Spielt es luftig und spricht träge an, kann man es leichter machen oder die nächste leichtere Stärke nehmen."],["Softer than you want: if it drops out or goes flat up high, scraping makes it worse. Clip it a little, or take the next harder step.","Leichter als gewünscht: Bleibt es in der Höhe weg oder sinkt es ab, macht Schaben es schlimmer. Ein wenig kürzen oder die nächste schwerere Stärke nehmen."],["On {w} facing ({n} mm open, {n2} mm long), lip force {n3} N:","Auf {w} ({n} mm offen, {n2} mm lang), Lippenkraft {n3} N:"],["at {n} kPa, more than anyone blows, it is still open. Are tip opening and lip force right?","Bei {n} kPa, mehr als irgendjemand bläst, ist es noch offen. Stimmen Öffnung und Lippenkraft?"],["closes at {n} ±{n2} kPa.","Es schließt bei {n} ±{n2} kPa."],["At half of that the right side stands {n} µm against the left.","Bei der Hälfte davon steht die rechte Seite um {n} µm gegen die linke."],["At half of that the right side stands {n} µm against the left, {n2} µm of it by the facing itself.","Bei der Hälfte davon steht die rechte Seite um {n} µm gegen die linke, {n2} µm davon durch die Bahn selbst."],["To close under the same pressure, another tip opening wants","Um bei gleichem Druck zu schließen, braucht eine andere Öffnung"],["{n} mm: {n2} % of this stiffness;","{n} mm: {n2} % dieser Steifigkeit;"],["{n} mm: {n2} % of this stiffness.","{n} mm: {n2} % dieser Steifigkeit."],["More open wants softer.","Offener braucht leichter."],["dry cane: what published models of clarinet reeds use, as wide as they differ.","Trockenes Holz: Werte veröffentlichter Modelle von Klarinettenblättern, so weit gestreut, wie sie sich unterscheiden."],["wet cane: an assumption, since published figures of the fall on wetting were not to be had.","Nasses Holz: eine Annahme, weil veröffentlichte Zahlen zum Abfall beim Anfeuchten nicht zu haben waren."],["taken for dry, because its moisture was not given; say --state dry or wet.","Als trocken angenommen, weil die Feuchte nicht angegeben ist; --state dry oder wet sagt sie."],["'Scan' and 'cane' are 95 % intervals: what the scan leaves open, and what is not known of the cane. Newtons per millimetre and hertz depend on the cane; left against right hardly does.","'Scan' und 'Holz' sind 95-%-Bereiche: was der Scan offen lässt und was vom Holz nicht bekannt ist. Newton je Millimeter und Hertz hängen vom Holz ab, links gegen rechts kaum."],["The reed ends {n} mm from the tip, before the ligature ({n2} mm) that would hold it.","Das Blatt endet {n} mm von der Spitze, vor der Blattschraube ({n2} mm), die es hielte."],["Lip and tip patches reach {n} mm from the tip, past the window's end at {n2} mm where the reed lies on the mouthpiece. Change the player file.","Die Flächen von Lippe und Spitze reichen bis {n} mm von der Spitze, über das Ende des Fensters bei {n2} mm hinaus, wo das Blatt auf dem Mundstück liegt. Die Spielerdatei ändern."],["the scan leaves a hole about {n} mm from the tip that is too large to say how the reed bends. Scan that place too.","Der Scan lässt etwa {n} mm von der Spitze eine Lücke, die zu groß ist, um zu sagen, wie sich das Blatt biegt. Auch diese Stelle scannen."],["this scan finds no thickness in places at the tip, so that it cannot be said how the reed bends. A finer scanner is needed for that.","Dieser Scan findet an der Spitze stellenweise keine Dicke, so dass sich nicht sagen lässt, wie sich das Blatt biegt. Dafür braucht es einen feineren Scanner."],["This result was written before bending was computed. Measure the scan again.","Dieses Ergebnis ist älter als die Berechnung der Biegung. Den Scan neu messen."],["mode {n}, {w}","Mode {n}, {w}"],["{n} %, right over left","{n} %, rechts über links"],["{n} N/mm","{n} N/mm"],["{n} Hz","{n} Hz"],["There was no plan to compare with; the picture shows what one side lost over the other.","Es gab keinen Plan zum Vergleichen; das Bild zeigt, was eine Seite mehr verlor als die andere."],["There was no plan to compare with; {n} ± {n2} mm³ came off the vamp.","Es gab keinen Plan zum Vergleichen; {n} ± {n2} mm³ kamen vom Ausstich weg."],["The place lost what was planned.","Die Stelle verlor, was geplant war."],["All places lost what was planned.","Alle Stellen verloren, was geplant war."],["Nothing is surely off the plan, but these scans cannot tell everywhere.","Nichts weicht sicher vom Plan ab, aber diese Scans können es nicht überall sagen."],["The {w}, {n} to {n2} mm from the tip: {n3} µm more than planned ({n4} ±{n5} µm of {n6} µm).","{w}, {n} bis {n2} mm von der Spitze: {n3} µm mehr als geplant ({n4} ±{n5} µm von {n6} µm)."],["The {w}, {n} to {n2} mm from the tip: {n3} µm less than planned ({n4} ±{n5} µm of {n6} µm).","{w}, {n} bis {n2} mm von der Spitze: {n3} µm weniger als geplant ({n4} ±{n5} µm von {n6} µm)."],["One scan was made {w}, the other {w2}: cane swells when wet, so only what one side lost over the other can be told. Scan both times in one state.","Feuchte beim einen Scan: {w}, beim anderen: {w2}. Holz quillt, wenn es nass ist, darum lässt sich nur sagen, was eine Seite mehr verlor als die andere. Beide Male im selben Zustand scannen."],["What was to come off both sides alike cannot be told from such scans.","Was auf beiden Seiten gleich wegkommen sollte, lässt sich aus solchen Scans nicht sagen."],["One scan was made from both sides, the other from above: the first gives the cane alone, the second what lies under the table too. Scan both times in one way.","Ein Scan ist von beiden Seiten gemacht, der andere von oben: Der erste gibt das Holz allein, der zweite auch, was unter dem Blatt liegt. Beide Male auf eine Art scannen."],["The moisture of both scans is not known; say it when measuring (--state), dry is best.","Die Feuchte beider Scans ist nicht bekannt; beim Messen angeben (--state), am besten trocken."],["Cane that nobody touched is {n} % thicker than before: it has swollen; that is taken out.","Unberührtes Holz ist {n} % dicker als vorher: Es ist gequollen; das ist herausgerechnet."],["Cane that nobody touched is {n} % thinner than before: it has dried; that is taken out.","Unberührtes Holz ist {n} % dünner als vorher: Es ist getrocknet; das ist herausgerechnet."],["The tip was clipped by {n} ± {n2} mm in between.","Die Spitze wurde dazwischen um {n} ± {n2} mm gekürzt."],["Most came off the {w}: {n} µm.","Am meisten kam hier weg: {w}, {n} µm."],["About {n} µm are gone from the {w} too, where nothing was planned.","Etwa {n} µm fehlen auch hier, wo nichts geplant war: {w}."],["Over all places together {n} % of the planned cane came off. From all that is known now a light stroke of yours takes {n2} µm, give or take {n3} %.","Über alle Stellen zusammen kamen {n} % des geplanten Holzes weg. Nach allem, was nun bekannt ist, nimmt ein leichter Strich von Ihnen {n2} µm, auf {n3} % genau."],["The strokes of what is left still count {n} µm each.","Die Striche dessen, was bleibt, zählen noch je {n} µm."],["both results come from the same scan file, so nothing can have come off in between. Scan the reed again after scraping, and compare with that.","Beide Ergebnisse kommen aus derselben Scandatei; dazwischen kann nichts weggekommen sein. Das Blatt nach dem Schaben neu scannen und damit vergleichen."],["the two results do not look like one reed: one is a {w} reed, the other a {w2} reed.","Die zwei Ergebnisse sehen nicht nach einem Blatt aus: eines für {w}, das andere für {w2}."],["the two results do not look like one reed: the {w} differs by {n} mm.","Die zwei Ergebnisse sehen nicht nach einem Blatt aus: {w} unterscheidet sich um {n} mm."],["the two results do not look like one reed: the second is {n} mm shorter.","Die zwei Ergebnisse sehen nicht nach einem Blatt aus: Das zweite ist {n} mm kürzer."],["the two results do not look like one reed: the second is thicker on {n} mm² of the vamp and thinner on {n2} mm².","Die zwei Ergebnisse sehen nicht nach einem Blatt aus: Das zweite ist auf {n} mm² des Ausstichs dicker und auf {n2} mm² dünner."],["Name the scan before and the scan after of the same reed.","Den Scan vorher und den Scan nachher desselben Blatts nennen."],["the second reed is {n} mm longer than the first, and cane does not grow. Are the two in the wrong order? Name the scan before scraping first.","Das zweite Blatt ist {n} mm länger als das erste, und Holz wächst nicht. Sind die zwei vertauscht? Den Scan vor dem Schaben zuerst nennen."],["the second scan has more cane than the first on {n} mm² of the vamp, and cane does not grow. Are the two in the wrong order, or was one wet? Name the scan before scraping first, and say the moisture when measuring.","Der zweite Scan hat auf {n} mm² des Ausstichs mehr Holz als der erste, und Holz wächst nicht. Sind die zwei vertauscht, oder war einer nass? Den Scan vor dem Schaben zuerst nennen und beim Messen die Feuchte angeben."],["too little of the untouched cane was seen in both scans to compare them. Scan the whole reed, its stock too.","In beiden Scans zusammen ist zu wenig unberührtes Holz zu sehen, um sie zu vergleichen. Das ganze Blatt scannen, auch den Schaft."],["nothing of the vamp was seen in both scans. Scan the whole reed.","Vom Ausstich ist nichts in beiden Scans zu sehen. Das ganze Blatt scannen."],["These two scans say nothing of what a stroke takes.","Diese zwei Scans sagen nicht, was ein Strich nimmt."],["There is no such reed here.","Dieses Blatt ist hier nicht."],["There is nothing here.","Hier ist nichts."],["Planned and done","Geplant und getan"],["Left against right, zone by zone","Links gegen rechts, Zone für Zone"],["Against the target","Gegen das Ziel"],["If it were clipped instead","Wenn es gekürzt würde"],["Figures of bending","Zahlen zur Biegung"],["Which cut it is","Welcher Schnitt es ist"],["Sources of uncertainty","Quellen der Unsicherheit"],["place","Stelle"],["planned, µm","geplant, µm"],["came off, µm","kam weg, µm"],["verdict","Urteil"],["verdict now","Urteil jetzt"],["zone","Zone"],["before, µm","vorher, µm"],["after, µm","nachher, µm"],["difference, µm","Unterschied, µm"],["U95, µm","U95, µm"],["tolerance, µm","Toleranz, µm"],["worst place, µm","schlimmste Stelle, µm"],["beyond U, mm2","außerhalb U, mm2"],["volume, mm3","Volumen, mm3"],["seen from, µm","gesehen ab, µm"],["after the plan, µm","nach dem Plan, µm"],["thickness, µm","Dicke, µm"],["target, µm","Ziel, µm"],["off, µm","Abweichung, µm"],["covered","gesehen"],["off the tip, mm","von der Spitze, mm"],["stiffness under the lip","Steifigkeit unter der Lippe"],["tip, mm","Spitze, mm"],["figure","Größe"],["value","Wert"],["scan","Scan"],["cane","Holz"],["measure","Maß"],["mm","mm"],["U95, mm","U95, mm"],["source","Quelle"],["together","zusammen"],["U95","U95"],["not seen","nicht gesehen"],["not seen in both scans","nicht in beiden Scans gesehen"],["as planned","wie geplant"],["too little","zu wenig"],["too much","zu viel"],["these scans cannot tell","diese Scans können es nicht sagen"],["{n}. {w}, {n2} to {n3} mm from the tip","{n}. {w}, {n2} bis {n3} mm von der Spitze"],["Right minus left, means over zones. 'Seen from' is the smallest true difference that 95 of 100 such scans would show.","Rechts minus links, Mittel über Zonen. 'Gesehen ab' ist der kleinste wahre Unterschied, den 95 von 100 solcher Scans zeigten."],["Differences in kind, not faults.","Unterschiede der Art, keine Fehler."],["{w} (built in, invented).","{w} (eingebaut, erfunden)."],["{x} (one reed).","{x} (ein Blatt)."],["{x} (mean of {n} reeds).","{x} (Mittel von {n} Blättern)."],["Chosen by you.","Von Ihnen gewählt."],["The nearest built-in cut, shown for orientation only; nothing is scraped towards it. Your own best reeds make the better target: 'canewise target make'.","Der nächste eingebaute Schnitt, nur zur Orientierung; auf ihn hin wird nichts geschabt. Ihre eigenen besten Blätter sind das bessere Ziel: 'canewise target make'."],["length","Länge"],["width at the tip","Breite an der Spitze"],["width at the butt","Breite am Ende"],["stock height","Höhe des Schafts"],["vamp length","Länge des Ausstichs"],["shoulder","Schulter"],["gentle","sanft"],["steep","steil"],["stepped","gestuft"],["where the vamp ends","wo der Ausstich endet"],["radius of the tip's arc","Radius des Spitzenbogens"],["corners fall behind the arc by","Ecken hinter dem Bogen um"],["shaved off the bark's corners","von den Rindenkanten abgenommen"],["tip, 1 mm behind the edge","Spitze, 1 mm hinter der Kante"],["heart","Herz"],["rails, middle","Ränder, Mitte"],["Standard uncertainties in µm, after the GUM. All but the first line come from stated assumptions or the rig file; scan the reed again, turned by half a turn on the plate, and compare.","Standardunsicherheiten in µm, nach GUM. Alle Zeilen außer der ersten kommen aus genannten Annahmen oder der Aufbaudatei; das Blatt noch einmal scannen, um eine halbe Drehung gedreht, und vergleichen."],["Texture of the vamp (ISO 25178-2; the scanner's noise is in it):","Textur des Ausstichs (ISO 25178-2; das Rauschen des Scanners ist darin):"],["left flank Sq {n} µm, {n2} µm without waves over 0.8 mm.","linke Flanke Sq {n} µm, {n2} µm ohne Wellen über 0,8 mm."],["right flank Sq {n} µm, {n2} µm without waves over 0.8 mm.","rechte Flanke Sq {n} µm, {n2} µm ohne Wellen über 0,8 mm."],["moisture: {w}; rig: {x}","Feuchte: {w}; Aufbau: {x}"],["{x}: {x2}, {n} points, {x3}; SHA-256 {x4}","{x}: {x2}, {n} Punkte, {x3}; SHA-256 {x4}"],["Datum: both sides were seen, so the thickness is the cane's own and the table's form is measured.","Bezug: Beide Seiten wurden gesehen, die Dicke ist also die des Holzes, und die Form der Unterseite ist gemessen."],["Datum: the jig's pads; how the table is warped is not seen and stays in the uncertainty as an assumption.","Bezug: die Auflagepunkte der Vorrichtung; wie die Unterseite verzogen ist, ist nicht zu sehen und bleibt als Annahme in der Unsicherheit."],["Datum: the plate; how the table is warped is not seen and stays in the uncertainty as an assumption ([priors] of the rig file).","Bezug: die Platte; wie die Unterseite verzogen ist, ist nicht zu sehen und bleibt als Annahme in der Unsicherheit ([priors] der Aufbaudatei)."],["Scans brought together by {n} spheres, {n2} µm left between them.","Scans zusammengeführt durch {n} Kugeln, {n2} µm bleiben dazwischen."],["Scans brought together by {w}, {n} µm left between them.","Scans zusammengeführt durch {w}, {n} µm bleiben dazwischen."],["left and right: assumed: as the scanner gives them, not checked.","links und rechts: angenommen: wie der Scanner sie liefert, nicht geprüft."],["left and right: corrected by the rig file.","links und rechts: von der Aufbaudatei berichtigt."],["left and right: proved by a mark on the plate, {x}.","links und rechts: durch eine Marke auf der Platte bewiesen, {x}."],["Check once: stick a scrap of tape on the right rail, scan, and see it on the right in the picture (tip up, vamp towards you).","Einmal prüfen: ein Stück Klebeband auf den rechten Rand kleben, scannen und nachsehen, ob es im Bild rechts ist (Spitze oben, Ausstich zu Ihnen)."],["No rig file was named: what the scanner does wrong is assumed, not known. 'canewise calibrate' finds it out.","Keine Aufbaudatei genannt: Was der Scanner falsch macht, ist angenommen, nicht bekannt. 'canewise calibrate' findet es heraus."],["The rig file says nothing of what the scanner does wrong: that is assumed, not known. 'canewise calibrate' finds it out.","Die Aufbaudatei sagt nichts darüber, was der Scanner falsch macht: Das ist angenommen, nicht bekannt. 'canewise calibrate' findet es heraus."],["How a reed seats on this rig is assumed, not known: 'canewise calibrate reversal' finds it out.","Wie ein Blatt auf diesem Aufbau aufliegt, ist angenommen, nicht bekannt: 'canewise calibrate reversal' findet es heraus."],["The plate's form is assumed, not known: 'canewise calibrate plate' finds it out.","Die Form der Platte ist angenommen, nicht bekannt: 'canewise calibrate plate' findet sie heraus."],["The rig's scale is assumed, not known: 'canewise calibrate step' finds it out.","Der Maßstab des Aufbaus ist angenommen, nicht bekannt: 'canewise calibrate step' findet ihn heraus."],["How deep this light enters cane is assumed, not known: 'canewise calibrate touch' finds it out.","Wie tief dieses Licht ins Holz dringt, ist angenommen, nicht bekannt: 'canewise calibrate touch' findet es heraus."],["The plate beside the reed shows that the scanner's heights drift by {n} µm over about {n2} mm.","Die Platte neben dem Blatt zeigt, dass die Höhen des Scanners über etwa {n2} mm um {n} µm wandern."],["The plate in view is bent by {n} µm over 30 mm, or the scanner bends what it sees: the thickness is less sure by as much. Use a flat plate, or find out with 'canewise calibrate plate'.","Die Platte im Bild ist auf 30 mm um {n} µm gebogen, oder der Scanner verbiegt, was er sieht: Um so viel unsicherer ist die Dicke. Nehmen Sie eine ebene Platte, oder finden Sie es mit 'canewise calibrate plate' heraus."],["The scanner's heights are assumed to drift by {n} µm from place to place, because too little plate is in view to see it.","Angenommen ist, dass die Höhen des Scanners von Ort zu Ort um {n} µm wandern, weil zu wenig Platte zu sehen ist, um es zu messen."],["In scan {n} the right edge lies {n2} µm higher against the left edge than in scan {n3}. Something may lie under the reed: wipe the plate and the table, lay the reed down again and scan it anew.","In Scan {n} liegt die rechte Kante gegenüber der linken um {n2} µm höher als in Scan {n3}. Vielleicht liegt etwas unter dem Blatt: Wischen Sie Platte und Tisch ab, legen Sie das Blatt neu auf und scannen Sie es noch einmal."],["The reed was laid down {n} times; one edge rises by {n2} µm over the other between them.","Das Blatt wurde {n}-mal aufgelegt; dazwischen hebt sich eine Kante um {n2} µm über die andere."],["The reed lies elsewhere in each scan. If you lifted it and laid it down again in between, say --laid-anew: then its seating is measured and not assumed.","Das Blatt liegt in jedem Scan anderswo. Haben Sie es dazwischen abgehoben und neu aufgelegt, sagen Sie --laid-anew: Dann ist gemessen, wie es aufliegt, und nicht angenommen."],["The rig was last calibrated {n} days ago. Scan the step gauge and the check piece again before you trust it.","Der Aufbau wurde vor {n} Tagen zuletzt kalibriert. Stufenlehre und Prüfstück neu scannen, bevor Sie ihm trauen."],["Nobody has proved that this rig's left is left: run 'canewise calibrate hand' once.","Niemand hat bewiesen, dass bei diesem Aufbau links links ist: einmal 'canewise calibrate hand' ausführen."],["The check against touch was made on a {w} reed; this one is {w2}, and light may enter it otherwise.","Der Vergleich mit Antasten wurde an einem anderen Zustand gemacht ({w}); dieses Blatt ist {w2}, und Licht kann anders eindringen."],["The scan shows {n} % of the reed. The rest stays empty: nothing is filled in from farther than one cell ({n2} mm) away.","Der Scan zeigt {n} % des Blatts. Der Rest bleibt leer: Nichts wird aus mehr als einer Zelle ({n2} mm) Entfernung ergänzt."],["There is no built-in target for this instrument; make one from your best reeds with 'canewise target make'.","Für dieses Instrument ist kein Ziel eingebaut; machen Sie eines aus Ihren besten Blättern: 'canewise target make'."],["The target is for another instrument ({x}): the comparison says little.","Das Ziel ist für ein anderes Instrument ({x}): Der Vergleich sagt wenig."],["Of target and reed only one's moisture is known: cane swells when wet, so the deviation may not be one of the cut.","Von Ziel und Blatt ist nur eine Feuchte bekannt: Holz quillt, wenn es nass ist; die Abweichung muss keine des Schnitts sein."],["The target was measured {w}, this reed {w2}: cane swells when wet, so the deviation is not one of the cut.","Das Ziel ist {w} gemessen, dieses Blatt {w2}: Holz quillt, wenn es nass ist; die Abweichung ist keine des Schnitts."],["This scan cannot tell whether the tip's edge is chipped. Look at it through a lens.","Dieser Scan kann nicht zeigen, ob die Kante der Spitze beschädigt ist. Sehen Sie sie mit einer Lupe an."],["The tip's edge is chipped; cells there stay empty.","Die Kante der Spitze ist beschädigt; Zellen dort bleiben leer."],["The plate beside the {w} side lies in shadow: the outline is a little less sure there, the thickness is not.","Die Platte neben dem Blatt liegt auf einer Seite im Schatten ({w}): Der Umriss ist dort etwas weniger sicher, die Dicke nicht."],["{n} repeated points left out.","{n} wiederholte Punkte weggelassen."],["{n} other thing in view left out.","{n} anderer Gegenstand im Bild weggelassen."],["{n} other things in view left out.","{n} andere Gegenstände im Bild weggelassen."],["{n} points without finite coordinates left out.","{n} Punkte ohne endliche Koordinaten weggelassen."],["The file does not say its unit; only {x} makes a reed of it. Say --units {x2} to be sure.","Die Datei nennt keine Einheit; nur {x} macht ein Blatt daraus. Sicher ist es mit --units {x2}."],["The file holds a surface of facets. What the scanner's program smoothed away or filled in shows in no uncertainty; its points would tell more.","Die Datei enthält eine Fläche aus Facetten. Was das Programm des Scanners glättete oder ergänzte, zeigt keine Unsicherheit; seine Punkte sagten mehr."],["{n} passes in one pose merged; their heights differ by {n2} µm (root mean square).","{n} Durchgänge in einer Lage zusammengefasst; ihre Höhen unterscheiden sich um {n2} µm (quadratisches Mittel)."],["{n} passes in different poses joined by {n2} spheres; what is left between them is {n3} µm (root mean square).","{n} Durchgänge in verschiedenen Lagen zusammengefügt durch {n2} Kugeln; dazwischen bleiben {n3} µm (quadratisches Mittel)."],["{n} passes in different poses joined by {w}; what is left between them is {n2} µm (root mean square).","{n} Durchgänge in verschiedenen Lagen zusammengefügt durch {w}; dazwischen bleiben {n2} µm (quadratisches Mittel)."],["The form of the rig's plate was taken off.","Die Form der Platte des Aufbaus ist abgezogen."],["The plate does not lie where its form was mapped, so the form was not taken off. Put it back, or map it anew with 'canewise calibrate plate'.","Die Platte liegt nicht, wo ihre Form aufgenommen wurde; die Form ist darum nicht abgezogen. Zurücklegen oder mit 'canewise calibrate plate' neu aufnehmen."],["The plate does not face the way it did when the step gauge was scanned, so heights were not corrected by it.","Die Platte ist anders geneigt als beim Scan der Stufenlehre; die Höhen sind darum nicht danach berichtigt."],["Balance map of the vamp:","Karte des Gleichgewichts am Ausstich:"],["Map of the cane that came off:","Karte des Holzes, das wegkam:"],["Map of the table:","Karte der Unterseite:"],["How the reed bends under the lip, where cane holds its stiffness, and where its left-right balance.","Wie sich das Blatt unter der Lippe biegt, wo Holz seine Steifigkeit hält und wo sein Gleichgewicht zwischen links und rechts."],["Shapes of the first modes.","Formen der ersten Moden."],["Thickness map of the whole reed, tip up.","Dickenkarte des ganzen Blatts, Spitze oben."],["What came off","Was wegkam"],["reading the scan","liest den Scan"],["finding the reed and its datum","sucht das Blatt und seinen Bezug"],["measuring the thickness","misst die Dicke"],["judging balance and cut","beurteilt Gleichgewicht und Schnitt"],["bending the reed","biegt das Blatt"],["planning","plant"],["done measuring","fertig gemessen"],["drawing pictures and writing","zeichnet Bilder und schreibt"],["nothing stands on the plate. Is the reed in view, table down?","Auf der Platte liegt nichts. Ist das Blatt im Bild, flache Seite nach unten?"],["the largest thing on the plate is {n} mm by {n2} mm, as round or square as a coin; a reed is four to six times as long as wide. Put one reed on the plate, table down.","Das größte Ding auf der Platte misst {n} mm mal {n2} mm, so rund oder quadratisch wie eine Münze; ein Blatt ist vier- bis sechsmal so lang wie breit. Ein Blatt auf die Platte legen, flache Seite nach unten."],["the largest thing on the plate is {n} mm by {n2} mm, which no reed measures. Put one reed on the plate, apart from anything else, and check the unit.","Das größte Ding auf der Platte misst {n} mm mal {n2} mm, wie kein Blatt. Ein Blatt auf die Platte legen, getrennt von allem anderen, und die Einheit prüfen."],["only {n} mm of a reed is in view: its tip is missing. Scan the whole reed, tip to butt, with plate around it.","Nur {n} mm eines Blatts sind im Bild: Die Spitze fehlt. Das ganze Blatt scannen, von der Spitze bis zum Ende, mit Platte ringsum."],["only {n} mm of a reed is in view: its butt is missing. Scan the whole reed, tip to butt, with plate around it.","Nur {n} mm eines Blatts sind im Bild: Das Ende fehlt. Das ganze Blatt scannen, von der Spitze bis zum Ende, mit Platte ringsum."],["{n} reeds are in view. Measure each of them with --each, or scan one reed at a time.","{n} Blätter sind im Bild. Jedes mit --each messen oder ein Blatt auf einmal scannen."],["the reed seems to lie upside down: its top is as thick at one end as at the other. Lay it table (flat side) down, vamp up.","Das Blatt scheint verkehrt herum zu liegen: Es ist an einem Ende so dick wie am anderen. Mit der flachen Unterseite nach unten legen, Ausstich oben."],["the scan is {n} mm by {n2} mm large; a reed on a plate is not. Check the unit with --units, or cut the scan to the plate.","Der Scan ist {n} mm mal {n2} mm groß; ein Blatt auf einer Platte ist das nicht. Die Einheit mit --units prüfen oder den Scan auf die Platte beschneiden."],["this scanner cannot judge a reed: single points of the plate scatter by {n} µm, while a reed's tip is about 100 µm thick and imbalances are 10 to 30 µm. Use a laser line, a structured-light scanner or a profilometer.","Dieser Scanner kann kein Blatt beurteilen: Einzelne Punkte der Platte streuen um {n} µm, während eine Spitze etwa 100 µm dick ist und Ungleichgewichte 10 bis 30 µm betragen. Eine Laserlinie, einen Streifenlicht-Scanner oder ein Profilometer nehmen."],["the tip's edge cannot be made out: where it was found it scatters by {n} µm, because single points scatter by {n2} µm and the tip is only about 100 µm thick. This scanner cannot judge a reed's tip; use a finer one.","Die Kante der Spitze ist nicht auszumachen: Wo sie gefunden wurde, streut sie um {n} µm, weil einzelne Punkte um {n2} µm streuen und die Spitze nur etwa 100 µm dick ist. Dieser Scanner kann keine Blattspitze beurteilen; einen feineren nehmen."],["the tip's edge cannot be made out: it is too thin for this scan's noise, hidden, or outside the scan. Scan more finely, with plate in view before the tip.","Die Kante der Spitze ist nicht auszumachen: Sie ist zu dünn für das Rauschen dieses Scans, verdeckt oder außerhalb. Feiner scannen, mit Platte vor der Spitze."],["the tip's edge cannot be made out: no plate is in view before it. Scan with plate around the whole reed.","Die Kante der Spitze ist nicht auszumachen: Vor ihr ist keine Platte zu sehen. Mit Platte rings um das ganze Blatt scannen."],["the butt end cannot be made out: it seems to be cut off. Scan the whole reed with plate behind it.","Das Ende ist nicht auszumachen: Es scheint abgeschnitten. Das ganze Blatt scannen, mit Platte dahinter."],["the reed's sides cannot be made out: too few points on the reed. Scan more finely.","Die Seiten des Blatts sind nicht auszumachen: zu wenige Punkte auf dem Blatt. Feiner scannen."],["the {w} side of the reed cannot be made out. Scan with some plate in view beside the reed, and more finely.","Eine Seite des Blatts ist nicht auszumachen ({w}). Mit etwas Platte neben dem Blatt scannen, und feiner."],["what lies on the plate has no straight sides, as every reed has. Put one reed on the plate, table down.","Was auf der Platte liegt, hat keine geraden Seiten wie jedes Blatt. Ein Blatt auf die Platte legen, flache Seite nach unten."],["what lies on the plate runs to a point, as no reed does. Put one reed on the plate, table down.","Was auf der Platte liegt, läuft spitz zu wie kein Blatt. Ein Blatt auf die Platte legen, flache Seite nach unten."],["the tip's edge is no arc that a mouthpiece has. Is this a whole reed, and is its tip in view?","Die Kante der Spitze ist kein Bogen, den ein Mundstück hat. Ist das ein ganzes Blatt, und ist seine Spitze im Bild?"],["what lies on the plate is {n} mm long and {n2} mm wide at the tip, which fits no reed of these instruments: {x}. Check the unit with --units.","Was auf der Platte liegt, ist {n} mm lang und an der Spitze {n2} mm breit; das passt zu keinem Blatt dieser Instrumente: {x}. Die Einheit mit --units prüfen."],["a reed is in view, but no plate around it, so nobody knows where its table is. Lay it on a flat, matt plate that the scan shows on all sides; or scan both sides on a carrier with spheres and name both files; or name the rig file of a jig with pads.","Ein Blatt ist im Bild, aber keine Platte darum, und niemand weiß, wo seine Unterseite liegt. Auf eine ebene, matte Platte legen, die der Scan auf allen Seiten zeigt; oder beide Seiten auf einem Träger mit Kugeln scannen und beide Dateien nennen; oder die Aufbaudatei einer Vorrichtung mit Auflagepunkten nennen."],["too little of the plate is in view around the reed to know where its table is. Scan with at least 5 mm of flat, matt plate on every side.","Um das Blatt ist zu wenig Platte zu sehen, um zu wissen, wo seine Unterseite liegt. Mit wenigstens 5 mm ebener, matter Platte auf jeder Seite scannen."],["no flat plate is in view, so this is no reed on a plate: the surfaces in this scan are smooth but bent. Lay the reed flat side down on a flat, matt plate that the scan shows on all sides.","Es ist keine ebene Platte zu sehen, also liegt hier kein Blatt auf einer Platte: Die Flächen in diesem Scan sind glatt, aber gekrümmt. Legen Sie das Blatt mit der flachen Seite nach unten auf eine ebene, matte Platte, die der Scan auf allen Seiten zeigt."],["the points lie on one line or in one spot, so there is no plate and no reed in this scan. Scan the reed table-down on a flat, matt plate with some plate in view on all sides.","Die Punkte liegen auf einer Linie oder an einer Stelle; dieser Scan zeigt weder Platte noch Blatt. Das Blatt mit der flachen Seite nach unten auf einer ebenen, matten Platte scannen, mit Platte auf allen Seiten."],["the scan spans {n} in the file's numbers, which is no reed on a plate in mm, um, m or in. Scan the whole reed, or name the unit with --units.","Der Scan misst {n} in den Zahlen der Datei; das ist weder in mm noch in um, m oder in ein Blatt auf einer Platte. Das ganze Blatt scannen oder die Einheit mit --units nennen."],["holds only {n} points; a reed needs thousands. Scan with a finer step.","Enthält nur {n} Punkte; ein Blatt braucht Tausende. Mit feinerem Schritt scannen."],["the reed carries only one point for every {n} mm in each direction; a thickness map needs at least one every 0.7 mm. Scan more finely.","Das Blatt trägt nur alle {n} mm in jeder Richtung einen Punkt; eine Dickenkarte braucht wenigstens alle 0,7 mm einen. Feiner scannen."],["too few points lie on the reed for a thickness map. Scan more finely.","Für eine Dickenkarte liegen zu wenige Punkte auf dem Blatt. Feiner scannen."],["no cell of the map holds enough points. Scan more finely.","Keine Zelle der Karte hat genug Punkte. Feiner scannen."]],Cm=[["left","links"],["right","rechts"],["tip","Spitze"],["front","vorn"],["middle","Mitte"],["back","hinten"],["within","innerhalb"],["outside","außerhalb"],["cannot tell","zu knapp"],["dry","trocken"],["wet","nass"],["unknown","unbekannt"],["bending","Biegung"],["twisting","Verdrehung"],["your","Ihrer Bahn"],["an invented example of a","einer erfundenen Beispielbahn"],["as your player file says","wie Ihre Spielerdatei sagt"],["an assumption until a scan after scraping tells your hand","eine Annahme, bis ein Scan nach dem Schaben Ihre Hand zeigt"],["one pose","eine Lage"],["the shape of reed and plate","die Form von Blatt und Platte"],["a corner block","einen Eckklotz"],["one closed surface","eine geschlossene Fläche"],["stiffness of the tip, left","Steifigkeit der Spitze, links"],["stiffness of the tip, centre","Steifigkeit der Spitze, Mitte"],["stiffness of the tip, right","Steifigkeit der Spitze, rechts"],["imbalance at the tip","Ungleichgewicht an der Spitze"],["imbalance under the lip","Ungleichgewicht unter der Lippe"],["noise and texture of this scan","Rauschen und Textur dieses Scans"],["seating on the plate","Sitz auf der Platte"],["form of the table","Form der Unterseite"],["curl of the tip","Aufbiegung der Spitze"],["scale of the rig","Maßstab des Aufbaus"],["form of the plate","Form der Platte"],["light that enters the cane","Licht, das ins Holz dringt"],["noise of the plate's plane","Rauschen der Plattenebene"],["bringing the scans together","Zusammenführen der Scans"],["bending from pose to pose","Biegung von Lage zu Lage"],["steps of the stored depth","Stufen der gespeicherten Tiefe"],["height of the stock","Höhe des Schafts"],["width of the butt","Breite am Ende"],["tip, centreline and turn of the reed","Spitze, Mittellinie und Drehung des Blatts"],["thickness of the tip","Dicke der Spitze"],["thickness of the heart","Dicke des Herzens"],["left-right difference of the rails at the tip","Unterschied der Ränder links und rechts an der Spitze"],["left-right difference of the rails in the middle","Unterschied der Ränder links und rechts in der Mitte"],["left half of the heart","linke Hälfte des Herzens"],["right half of the heart","rechte Hälfte des Herzens"]],As={instruments:[["B-flat clarinet","B-Klarinette"],["E-flat clarinet","Es-Klarinette"],["bass clarinet","Bassklarinette"],["soprano saxophone","Sopransaxofon"],["alto saxophone","Altsaxofon"],["tenor saxophone","Tenorsaxofon"],["baritone saxophone","Baritonsaxofon"]],blanks:[["thin blank","dünner Rohling"],["medium blank","mittlerer Rohling"],["thick blank","dicker Rohling"]],probably:["probably","wohl"],filed:["filed","gefeilt"],unfiled:["unfiled","ungefeilt"],rounded:["rounded tip","runde Spitze"],squarer:["squarer tip","eckigere Spitze"],strongHeart:["strong heart","starkes Herz"],reed:["reed","Blatt"]},zt={softer:["softer","leichter"],harder:["harder","schwerer"],like:["like the reference","wie die Referenz"],likeYours:["like your reference","wie Ihre Referenz"],thanYours:["than your reference","als Ihre Referenz"],parts:[["a quarter","eine Viertelstärke"],["a half","eine halbe Stärke"],["three quarters","eine Dreiviertelstärke"]],counts:[["one","ein"],["two","zwei"],["three","drei"],["four","vier"]],partsOver:[["a quarter","einviertel"],["a half","einhalb"],["three quarters","dreiviertel"]],oneStrength:["one strength","eine Stärke"],strengths:["strengths","Stärken"],more:["more than four strengths","mehr als vier Stärken"]},Rs={r:204,g:204,b:204},Pm={r:236,g:226,b:204},Dm=.4,Lm=[10,20,30,40,50,75,100,150,200,300,500,1e3];function mo(n,e){for(const t of Lm)if(t>=e&&n<=t)return t;return Math.ceil(n/1e3)*1e3}function go(n,e){const t=n.filter(i=>!Number.isNaN(i)).map(Math.abs).sort();return t.length===0?0:t[Math.min(t.length-1,Math.floor(e*t.length))]??0}function Ui(n,e,t,i,r){const s=go(t,.98),a=e==="um"?mo(s,r):Math.max(s,1e-6);return{name:n,diverging:!0,unit:e,low:-a,high:a,look(o){const l=t[o]??NaN;return Number.isNaN(l)?{value:l,trust:"unknown"}:i?{value:l,trust:Math.abs(l)>(i[o]??NaN)?"known":"pale"}:{value:l,trust:"known"}}}}function _o(n,e,t){return{name:n,diverging:!1,unit:"um",low:0,high:t,look(i){const r=e[i]??NaN;return{value:r,trust:Number.isNaN(r)?"unknown":"known"}}}}function tu(n,e,t){let i=!1;for(let r=0,s=n.length-1;r<n.length;s=r++){const[a,o]=n[r],[l,c]=n[s];o>t!=c>t&&e<(l-a)*(t-o)/(c-o)+a&&(i=!i)}return i}function Nm(n,e){const t=n.field("thickness"),i=new Float32Array(t.length);for(let r=0;r<n.grid.columns;r++)for(let s=0;s<n.grid.rows;s++){const a=n.index(s,r);if(Number.isNaN(t[a])){i[a]=NaN;continue}for(const o of e.plan.steps)tu(o.polygon,n.x_mm(s),n.y_mm(r))&&(i[a]=(i[a]??0)+o.depth_um)}return i}function nu(n){const e=n.field("thickness"),t=new Float32Array(e.length);for(let i=0;i<n.grid.columns;i++)for(let r=0;r<n.grid.rows;r++)t[n.index(r,i)]=(e[n.index(r,i)]??NaN)-(e[n.index(r,n.mirrored(i))]??NaN);return t}function Um(n,e){const t=n.field("thickness");let i=0;for(let r=0;r<n.grid.columns;r++)for(let s=0;s<n.grid.rows&&n.x_mm(s)<e;s++){const a=t[n.index(s,r)]??NaN;a>i&&(i=a)}return Math.max(100,Math.ceil(i/100)*100)}function Im(n,e,t){const i=t?["removed","beforeAfter","leftRight","thickness"]:["leftRight","thickness"];return e.has("deviation")&&i.push("target"),i.push("sureness"),e.has("stiffness_percent")&&i.push("stiffness"),e.has("balance_percent")&&i.push("balance"),n.plan.steps.length>0&&i.push("plan"),i}function vo(n,e,t){switch(n){case"leftRight":return Ui(n,"um",nu(t),t.field("u95_difference"),20);case"beforeAfter":return Ui(n,"um",nu(t),t.field("u95_difference"),20);case"target":return Ui(n,"um",t.field("deviation"),t.field("u95"),20);case"removed":return Ui(n,"um",t.field("removed"),t.field("u95_removed"),20);case"stiffness":return Ui(n,"percent",t.field("stiffness_percent"),null,0);case"balance":return Ui(n,"percent",t.field("balance_percent"),null,0);case"sureness":return _o(n,t.field("u95"),mo(go(t.field("u95"),.95),10));case"plan":{const i=Nm(t,e);return _o(n,i,mo(go(i,1),10))}case"thickness":return _o(n,t.field("thickness"),Um(t,e.vamp_mm))}}class iu{bytes;constructor(e){this.bytes=new Uint8Array(e.length/2);for(let t=0;t<this.bytes.length;t++)this.bytes[t]=parseInt(e.slice(2*t,2*t+2),16)}at(e){const t=3*Math.round(Math.min(1,Math.max(0,e))*(this.bytes.length/3-1));return{r:this.bytes[t]??0,g:this.bytes[t+1]??0,b:this.bytes[t+2]??0}}}function km(n,e,t){if(t.trust==="unknown")return Rs;if(n.name==="plan"&&t.value===0)return Pm;if(!n.diverging)return e.sequential.at((t.value-n.low)/(n.high-n.low));const i=t.value/n.high*(t.trust==="pale"?Dm:1);return e.diverging.at(.5+.5*Math.min(1,Math.max(-1,i)))}function ru(n){const e=atob(n),t=new Uint8Array(e.length);for(let i=0;i<e.length;i++)t[i]=e.charCodeAt(i);return t}function su(n){return new Float32Array(ru(n).buffer)}class au{constructor(e,t,i,r,s){this.grid=e,this.fields=t,this.halfWidth_mm=i,this.rim=r,this.length_mm=s}decoded=new Map;has(e){return this.fields[e]!==void 0}field(e){let t=this.decoded.get(e);if(!t){const i=this.fields[e];t=i===void 0?new Float32Array(this.grid.rows*this.grid.columns).fill(NaN):su(i),this.decoded.set(e,t)}return t}x_mm(e){return(e+.5)*this.grid.cell_mm}y_mm(e){return(e+.5-.5*this.grid.columns)*this.grid.cell_mm}index(e,t){return t*this.grid.rows+e}mirrored(e){return this.grid.columns-1-e}cellAt(e,t){const i=Math.floor(e/this.grid.cell_mm),r=Math.floor(t/this.grid.cell_mm+.5*this.grid.columns);return i<0||i>=this.grid.rows||r<0||r>=this.grid.columns?null:{row:i,column:r}}halfWidthAt(e){const t=Math.min(this.grid.rows-1,Math.max(0,Math.floor(e/this.grid.cell_mm)));return this.halfWidth_mm[t]??0}}function Fm(n){return new au(n.grid,n.fields,n.half_width_mm,n.rim,n.length_mm)}function Om(n){const e=n.before;return e?new au(e.grid,e.fields,e.half_width_mm,e.rim,e.length_mm):null}function Bm(n,e,t="."){if(e==="um")return n;const i=/[+\-−]?\d+(?:[.,]\d+)?/,r=new RegExp(`(${i.source})((?: ?±| to | bis |–)(${i.source}))?( ?)(µm|um)(?![\\w³²])`,"g");return n.replace(r,(s,a,o,l,c)=>{const u=h=>{const p=Number(h.replace("−","-").replace(",","."))/Qh;return(h.startsWith("+")?"+":"")+p.toFixed(/[.,]/.test(h)?3:2).replace(".",t)},d=o&&l?o.replace(l,u(l)):"";return`${u(a)}${d}${c}thou`})}function zm(n,e,t="."){return e==="um"?n:Bm(n,e,t).replace(/(?<=, |in )µm(?![\w²³])/g,Fn(e))}function Hm(n,e){return e==="um"?n:n.replace(/([+-]?)(\d+(?:\.\d+)?)/g,(t,i,r)=>{const s=(r.split(".")[1]??"").length+2;return i+Er(Number(r),e).toFixed(s)})}function Ii(n){return ri.map((e,t)=>n.map(i=>typeof i=="string"?i:i[t]??"").join(""))}function Vm(){const n=[],e=t=>ri.map(i=>Tr(i,t));for(const t of["rail","flank","centre"]){for(const i of["tip","front","middle","back"])n.push(Ii([e(t),", ",e(i)]));for(const i of["left","right"]){const r=e(`place_${i}_${t}`);n.push(r);for(const s of["tip","front","middle","back"])n.push(Ii([r,", ",e(s)]))}}return n}function Gm(){const n=[],{filed:e,unfiled:t,probably:i,reed:r,rounded:s,squarer:a,strongHeart:o}=As;for(const l of As.instruments){n.push(l);for(const c of As.blanks)for(const u of[["",""],[`${i[0]} `,`${i[1]} `]]){n.push([`${l[0]} ${r[0]}, ${u[0]}${c[0]}`,`${r[1]} für ${l[1]}, ${u[1]}${c[1]}`]);for(const d of[e,t])n.push([`${d[0]} ${l[0]} ${r[0]}, ${u[0]}${c[0]}`,`${r[1]} für ${l[1]}, ${d[1]}, ${u[1]}${c[1]}`])}for(const c of[null,...As.blanks])for(const u of[e,t])for(const d of[s,a])for(const h of[null,o])n.push(Ii([l,...c?[", ",c]:[],", ",u,...h?[", ",h]:[],", ",d]))}return n}function Wm(){const n=[];for(const e of[zt.softer,zt.harder]){const t=i=>n.push(Ii([i," ",e]));zt.parts.forEach(t),t(zt.oneStrength),t(zt.more),zt.counts.forEach((i,r)=>{r>0&&t(Ii([i," ",zt.strengths])),zt.partsOver.forEach(s=>t([`${i[0]} and ${s[0]} ${zt.strengths[0]}`,`${i[1]}${s[1]} ${zt.strengths[1]}`]))})}return[zt.like,zt.likeYours,...n,...n.map(e=>Ii([e," ",zt.thanYours]))]}const ou=new Map;for(const n of[...Vm(),...Gm(),...Wm(),...Cm])ou.set((n[0]??"").toLowerCase(),n);function lu(n,e){return ou.get(e.toLowerCase())?.[n]}const cu=/\{([nwx])(\d*)\}/g,$m={n:"([+\\-−]?\\d+(?:\\.\\d+)?)",w:"([^.:;]+?)",x:"((?:(?!\\. ).)+?)"};function hu(n){return n.replace(/[.*+?^${}()|[\]\\]/g,"\\$&")}let uu=null;function Xm(){return uu??=Rm.map(n=>{const e=[];let t="",i=0;for(const s of n[0].matchAll(cu))t+=hu(n[0].slice(i,s.index))+($m[s[1]??""]??""),i=s.index+s[0].length,e.push(s[0]);const r=n[0].slice(i);return t+=hu(r)+(r===""?"$":"(?=\\s|$)"),{match:new RegExp(t,"y"),names:e,entry:n}}),uu}function du(n,e){const t=e[0]??"";return t!==t.toLowerCase()?(n[0]??"").toUpperCase()+n.slice(1):n}function qm(n,e,t){let i=null;const r=Tr(ri[t]??"en","decimalSign");for(const{match:s,names:a,entry:o}of Xm()){s.lastIndex=e;const l=s.exec(n);if(!l||i&&s.lastIndex<=i.end)continue;const c=new Map;let u=!0;if(a.forEach((h,p)=>{const g=l[p+1]??"",_=h.startsWith("{w")?lu(t,g):h.startsWith("{n")?g.replace(".",r):g;u&&=_!==void 0,c.set(h,_??"")}),!u)continue;const d=(o[t]??"").replace(cu,h=>c.get(h)??"");i={end:e+l[0].length,text:du(d,l[0])}}return i}function Ym(n,e){const t=ri.indexOf(n);if(t===0)return e;const[,i="",r="",s=""]=/^(\s*)([^]*?)(\s*)$/.exec(e)??[],a=lu(t,r);if(a!==void 0)return i+du(a,r)+s;let o="";for(let l=0;l<r.length;){const c=qm(r,l,t);if(!c)return null;for(o+=(l===0?"":" ")+c.text,l=c.end;l<r.length&&/\s/.test(r[l]??"");)++l}return i+o+s}function ki(n){try{return localStorage.getItem("canewise."+n)}catch{return null}}function Fi(n,e){try{e===null?localStorage.removeItem("canewise."+n):localStorage.setItem("canewise."+n,e)}catch{}}function xo(n,e,t){const i=ki(n);return e.find(r=>r===i)??t}const jm=navigator.language.startsWith("de")?"de":"en",Xt=it(xo("language",ri,jm)),Tt=it(xo("unit",["um","thou"],"um")),Ar=it(xo("look",["asSystem","light","dark"],"asSystem")),fu=matchMedia("(prefers-color-scheme: dark)"),pu=it(fu.matches);fu.addEventListener("change",n=>pu.value=n.matches);const Cs=yi(()=>Ar.value==="asSystem"?pu.value:Ar.value==="dark");function N(n){return Tr(Xt.value,n)}function en(n){const e=Ym(Xt.value,n),t=e===null?"en":Xt.value;return{text:zm(e??n,Tt.value,Tr(t,"decimalSign")),lang:t}}function Sn(n){return n.replace(/(\d)\.(?=\d)/g,`$1${N("decimalSign")}`)}function Ut(n,e=0,t=!1){return Sn(ym(n,Tt.value,e,t))}un(()=>{Fi("language",Xt.value),Fi("unit",Tt.value),Fi("look",Ar.value),document.documentElement.dataset.theme=Cs.value?"dark":"light",document.documentElement.lang=Xt.value});class Zm{constructor(e){this.data=e,this.map=Fm(e),this.before=Om(e),this.palettes={sequential:new iu(e.colours.sequential),diverging:new iu(e.colours.diverging)},this.colourings=Im(e,this.map,this.before),this.colours.value=this.colourings[0]??"thickness",this.before&&(this.view.value="flat");const t=(this.before?e.before?.plan:e.plan)?.steps[0]?.polygon,i=this.clipped_mm,r=t?.map(([a,o])=>[a-i,o])??[[.3*e.vamp_mm,0]];this.moveCursor(r.reduce((a,o)=>a+o[0],0)/r.length,r.reduce((a,o)=>a+o[1],0)/r.length);const s=yi(()=>{if(this.colours.value!=="beforeAfter"||!this.before)return null;const a=[this.before,this.map].map(o=>vo("beforeAfter",e,o));return{low:Math.min(...a.map(o=>o.low)),high:Math.max(...a.map(o=>o.high))}});this.shown=yi(()=>({...vo(this.colours.value,e,this.mapShown(this.colours.value)),...s.value})),this.shownBefore=yi(()=>s.value&&this.before?{...vo("beforeAfter",e,this.before),...s.value}:null)}map;before;palettes;colourings;view=it("surface");cannotTurn=it(!1);colours=it("leftRight");cursor=it({x_mm:0,y_mm:0});exaggeration=it(5);movement=it("still");wholeReed=it(!1);showGrid=it(!1);showZones=it(!0);wipe=it(.5);shown;shownBefore;mapShown(e){return e==="removed"&&this.before?this.before:this.map}get clipped_mm(){return this.before?this.data.clipped_mm??0:0}onShownMap_mm(e){return this.mapShown(this.colours.value)===this.before?e+this.clipped_mm:e}moveCursor(e,t){const i=Math.min(this.data.length_mm,Math.max(0,e)),r=this.map.halfWidthAt(i);this.cursor.value={x_mm:i,y_mm:Math.min(r,Math.max(-r,t))}}get longest_mm(){return this.wholeReed.value?this.data.length_mm:Math.min(this.data.length_mm,this.data.vamp_mm+1)}}const rt={left:58,right:12,top:12,bottom:42},mu=matchMedia("(max-width: 600px)"),Ps=it(mu.matches);mu.addEventListener("change",n=>Ps.value=n.matches);function gu(){return Ps.value?{width:380,height:240}:{width:640,height:250}}const _u={centre:void 0,left:"8 4",right:void 0},vu="2 4";function xu(n){return n.before?vu:_u[n.side]}function Su(n){const e=Cs.value?co:lo;return n==="left"||n==="right"?e[n]:"currentColor"}function bu(n){const e=Math.log10(n);return n>=.001||!Number.isInteger(e)?Sn(String(Number(n.toPrecision(6)))):`10⁻${[...String(-e)].map(t=>"⁰¹²³⁴⁵⁶⁷⁸⁹"[Number(t)]).join("")}`}function Mu({name:n,title:e}){const t=i=>{const r=i.currentTarget.closest("figure"),s=r?.querySelector(":scope > svg");if(!r||!s)return;const a=[...r.querySelectorAll(".key li")].map(l=>(l.textContent??"").trim()+Km(l)),o=a.length>0?a.join("; "):r.querySelector("p")?.textContent??"";yr(`reed-${n}.svg`,new Blob([Jh(e,[uo(s,640)],o)],{type:"image/svg+xml"}))};return x("button",{class:"save-chart","aria-label":`SVG: ${e}`,onClick:t,children:"SVG"})}function Km(n){const e=n.querySelector("path");if(!e)return` (${N("grey")})`;const t=e.getAttribute("stroke-dasharray");return t===_u.left?` (${N("dashed")})`:t===vu?` (${N("dotted")})`:""}function Ds(n){const{width:e,height:t}=gu(),i=n.curves.flatMap(g=>g.points);if(i.length<2)return null;const r=i.map(g=>g[0]),s=[...i.map(g=>g[1]),...(n.bands??[]).flat().flatMap(g=>[g[1],g[2]])],a=ws([Math.min(...r,0),Math.max(...r)],[rt.left,e-rt.right]),o=Math.min(...s,n.from??1/0),l=n.logarithmic?Nh([o,Math.max(...s)],[t-rt.bottom,rt.top]).nice():ws([o,Math.max(...s)],[t-rt.bottom,rt.top]).nice(5),c=n.logarithmic?l.ticks().filter(g=>g.toExponential().startsWith("1e")):l.ticks(5),u=Gh(g=>a(g[0]),g=>l(g[1])),d=gm(g=>a(g[0]),g=>l(g[1]),g=>l(g[2])),h=g=>{if(!n.onPick||g.type==="pointermove"&&g.pointerType!=="mouse"&&g.buttons===0)return;const _=g.currentTarget,m=new DOMPoint(g.clientX,g.clientY).matrixTransform(_.getScreenCTM()?.inverse());n.onPick(a.invert(Math.min(e-rt.right,Math.max(rt.left,m.x))))},p=[...n.bandLabel?[{label:n.bandLabel,side:null,before:!1}]:[],...n.curves];return x("figure",{class:"chart","data-chart":n.name,children:[x("figcaption",{children:[n.title," ",x(Mu,{name:n.name,title:n.title})]}),x("ul",{class:"key",children:p.map(g=>x("li",{children:[x("svg",{viewBox:"0 0 28 12",width:"28",height:"12","aria-hidden":"true",children:g.side===null?x("rect",{width:"28",height:"12",fill:"currentColor","fill-opacity":"0.16"}):x("path",{d:"M0 6h28",stroke:Su(g.side),"stroke-width":"2.2","stroke-dasharray":xu(g)})}),g.label]},g.label))}),x("svg",{viewBox:`0 0 ${e} ${t}`,role:"img","aria-label":`${n.title}: ${p.map(g=>g.label).join(", ")}. ${n.xTitle}; ${n.yTitle}`,class:n.onPick?"pickable":void 0,onPointerDown:h,onPointerMove:h,children:[x("g",{stroke:"currentColor","stroke-opacity":"0.18",children:[a.ticks(Ps.value?5:8).map(g=>x("path",{d:`M${a(g)} ${rt.top}V${t-rt.bottom}`},g)),c.map(g=>x("path",{d:`M${rt.left} ${l(g)}H${e-rt.right}`},g))]}),x("g",{"font-size":"13",fill:"currentColor",children:[a.ticks(Ps.value?5:8).map(g=>x("text",{x:a(g),y:t-rt.bottom+16,"text-anchor":"middle",children:bu(g)},g)),c.map(g=>x("text",{x:rt.left-6,y:l(g)+4,"text-anchor":"end",children:bu(g)},g)),x("text",{x:e-rt.right,y:t-8,"text-anchor":"end",children:n.xTitle}),x("text",{transform:`translate(14 ${rt.top}) rotate(-90)`,"text-anchor":"end",children:n.yTitle})]}),x("clipPath",{id:`in-${n.name}`,children:x("rect",{x:rt.left,y:rt.top,width:e-rt.left-rt.right,height:t-rt.top-rt.bottom})}),x("g",{"clip-path":`url(#in-${n.name})`,fill:"none","stroke-width":"2.2",children:[(n.bands??[]).map((g,_)=>x("path",{d:d(g)??"",fill:"currentColor","fill-opacity":"0.16",stroke:"none"},_)),n.curves.map(g=>x("path",{d:u(g.points)??"",stroke:Su(g.side),"stroke-dasharray":xu(g)},g.label)),n.cursor===void 0?null:x("path",{d:`M${a(n.cursor)} ${rt.top}V${t-rt.bottom}`,stroke:"currentColor","stroke-width":"1.4","stroke-dasharray":"4 3"})]})]})]})}function So(n){return n.map(([e,t])=>[e,Er(t,Tt.value)])}function wu(n){return n.map(([e,t,i])=>[e,Er(t,Tt.value),Er(i,Tt.value)])}function Jm({reed:n}){const{x_mm:e,y_mm:t}=n.cursor.value,i=(r,s,a)=>{const{left:o,right:l}=Tm(r,s),c=u=>a?`${u}, ${N("before")}`:u;return[{label:c(N("leftFolded")),points:So(o),side:"left",before:a},{label:c(N("rightSide")),points:So(l),side:"right",before:a}]};return x(Ds,{name:"section",title:`${N("acrossAt")} ${Sn(e.toFixed(1))}`,xTitle:N("fromCentre"),yTitle:`${N("thickness")}, ${Fn(Tt.value)}`,curves:[...i(n.map,e,!1),...n.before?i(n.before,e+n.clipped_mm,!0):[]],cursor:Math.abs(t),onPick:r=>n.moveCursor(e,t<0?-r:r)})}function Qm({reed:n}){const e=n.data.vamp_mm,{x_mm:t,y_mm:i}=n.cursor.value,r=n.data.target,s=(o,l,c)=>[["centreCurve","centre",-.15,.15],["leftRail","left",-.9,-.75],["rightRail","right",.75,.9]].map(([u,d,h,p])=>({label:c?`${N(u)}, ${N("before")}`:N(u),points:So(Em(o,h,p,e+l).flatMap(([g,_])=>g>l?[[g-l,_]]:[])),side:d,before:c})),a=[...s(n.map,0,!1),...n.before?s(n.before,n.clipped_mm,!0):[]];return x(Ds,{name:"profiles",title:N("along"),xTitle:N("fromTipAxis"),yTitle:`${N("thickness")}, ${Fn(Tt.value)}`,curves:a,bands:r?[wu(r.centre),wu(r.rail)]:[],bandLabel:r?N("targetBand"):void 0,from:0,cursor:Math.min(t,e),onPick:o=>n.moveCursor(o,i)})}function yu(n){return["left","centre","right"].map((t,i)=>({label:N(t==="centre"?"centreCurve":t),side:t,points:n.flatMap(r=>{const s=r[i+1];return s==null?[]:[[r[0],s]]})}))}function eg({reed:n}){const e=n.data.bending;return e?x(Ds,{name:"closing",title:N("closing"),xTitle:N("pressure"),yTitle:N("opening"),curves:yu(e.closing),from:0}):null}function tg({reed:n}){const e=n.data.bending;return e?x(Ds,{name:"compliance",title:N("compliance"),xTitle:N("fromTipAxis"),yTitle:N("complianceAxis"),curves:yu(e.compliance),logarithmic:!0}):null}function ng({reed:n}){const e=n.data.bars.flatMap(l=>l.before===null||l.after===null?[]:l.imbalance?[{...l,was:100*l.before,is:100*l.after,text:Sn(`${(100*l.before).toFixed(1)} → ${(100*l.after).toFixed(1)} %`)}]:[{...l,was:0,is:100*(l.after/l.before-1),text:Sn(`${l.before.toFixed(2)} → ${l.after.toFixed(2)} N/mm`)}]);if(e.length===0)return null;const t=100*n.data.imbalance_tolerance,i=Math.max(t,...e.flatMap(l=>[Math.abs(l.was),Math.abs(l.is)])),{width:r}=gu(),s=ws([-i,i],[10,r-10]),a=50,o=a*e.length+6;return x("figure",{class:"chart","data-chart":"bars",children:[x("figcaption",{children:[N("bars")," ",x(Mu,{name:"bars",title:N("bars")})]}),x("p",{class:"soft",children:N("barsKey")}),x("svg",{viewBox:`0 0 ${r} ${o}`,role:"img","aria-label":`${N("bars")}: ${e.map(l=>`${en(l.name).text} ${l.text}`).join("; ")}`,children:[e.map((l,c)=>{const u=20+a*c,d=(h,p,g)=>x("rect",{x:Math.min(s(0),s(h)),y:u+p,width:Math.max(.8,Math.abs(s(h)-s(0))),height:"9",fill:g?"currentColor":"none",stroke:"currentColor"});return x("g",{"font-size":"13",fill:"currentColor",children:[l.imbalance?x("rect",{x:s(-t),y:u,width:s(t)-s(-t),height:"25","fill-opacity":"0.16"}):null,l.imbalance?d(l.was,2,!1):null,d(l.is,l.imbalance?14:4,!0),x("text",{x:"10",y:u-6,children:en(l.name).text}),x("text",{x:r-10,y:u-6,"text-anchor":"end",children:l.text})]},l.name)}),x("path",{d:`M${s(0)} 4V${o}`,stroke:"currentColor","stroke-opacity":"0.5"})]})]})}const Eu=6;function bo(n){return{firstRow:0,rows:n.grid.rows,firstColumn:0,columns:n.grid.columns}}function Ls(n,e,t,i){const r=Eu,s=new ImageData(i.columns*r,i.rows*r),a=s.width;for(let o=0;o<i.rows;o++)for(let l=0;l<i.columns;l++){const c=i.firstRow+o,u=i.firstColumn+l,d=e.look(n.index(c,u)),h=km(e,t,d),p=e.diverging&&d.trust==="known"&&d.value<.2*e.low&&c%2===0&&(u+c/2)%2===0;for(let g=0;g<r;g++)for(let _=0;_<r;_++){const m=l*r+_,f=o*r+g;let{r:E,g:y,b:M}=h;d.trust==="unknown"&&(m+f)%8<3&&(E=y=M=150),p&&_>=2&&_<4&&g>=2&&g<4&&(E=y=M=26);const C=4*(f*a+m);s.data[C]=E,s.data[C+1]=y,s.data[C+2]=M,s.data[C+3]=255}}return s}function Mo(n){const e=document.createElement("canvas");return e.width=n.width,e.height=n.height,e.getContext("2d")?.putImageData(n,0,0),e}function ig(n,e,t,i){const r=document.createElement("canvas");r.width=n.canvas.width,r.height=n.canvas.height;const s=r.getContext("2d");if(!s)return n.canvas;s.drawImage(n.canvas,0,0);const a=Eu/n.map.grid.cell_mm,o=Math.max(...n.map.halfWidth_mm),l=.5*r.width+(2*t-1)*o*a,{rows:c,columns:u,cell_mm:d}=e.map.grid;return s.save(),s.beginPath(),s.rect(0,0,l,r.height),s.clip(),s.drawImage(e.canvas,.5*r.width-.5*u*d*a,-i*a,u*d*a,c*d*a),s.restore(),s.fillStyle="#1a1a1e",s.fillRect(l-2,0,4,r.height),r}function Tu(n){return Mo(n).toDataURL("image/png")}const rg=`rgb(${Rs.r} ${Rs.g} ${Rs.b})`,Au=1.6;function wo(n){return n.map(([e,t],i)=>`${i===0?"M":"L"}${t.toFixed(3)} ${e.toFixed(3)}`).join("")+"Z"}function sg(n,e,t){const{t:i,e:r}=n.data.limits;let s="";for(const a of i.slice(1)){const o=a*n.data.vamp_mm,l=e.halfWidthAt(o);s+=`M${(t?0:-l).toFixed(2)} ${o.toFixed(2)}L${l.toFixed(2)} ${o.toFixed(2)}`}for(const a of r.slice(1,-1))for(const o of t?[1]:[-1,1])for(let l=0;l<=20;l++){const c=l/20*n.data.vamp_mm;s+=`${l===0?"M":"L"}${(o*a*e.halfWidthAt(c)).toFixed(2)} ${c.toFixed(2)}`}return s}const ag={within:"ok",outside:"!","cannot tell":"?"};function og({reed:n,folded:e}){const{t,e:i}=n.data.limits;return x("g",{"font-size":"0.86","text-anchor":"middle",stroke:"#fff","stroke-width":"0.26","paint-order":"stroke",fill:"#1a1a1e",children:n.data.zones.map((r,s)=>{if(r.difference_um===null)return null;const a=Math.floor(s/3),o=s%3,l=a===0?2.5:.5*n.data.vamp_mm*((t[a]??0)+(t[a+1]??1)),c=.5*((i[o]??0)+(i[o+1]??1));return(e?[1]:[-1,1]).map(u=>x("text",{y:l,children:[x("tspan",{x:u*c*n.map.halfWidthAt(l),children:Ut(u*(r.difference_um??0),0,!0)}),x("tspan",{x:u*c*n.map.halfWidthAt(l),dy:"0.95",children:ag[r.verdict]})]},`${s}${u}`))})})}function yo({steps:n,lit:e,folded:t}){return x("g",{fill:"none","stroke-linejoin":"round",children:n.map((i,r)=>{const s=t?i.polygon.map(([u,d])=>[u,Math.abs(d)]):i.polygon,a=wo(s),o=e===void 0||e===r,l=s.reduce((u,d)=>u+d[0],0)/s.length,c=s.reduce((u,d)=>u+d[1],0)/s.length;return x("g",{opacity:o?1:.35,children:[x("path",{d:a,stroke:"#fff","stroke-width":"0.5"}),x("path",{d:a,stroke:"#1a1a1e","stroke-width":"0.24",fill:e===r?"rgb(181 80 10 / 0.75)":"none"}),x("circle",{cx:c,cy:l,r:"0.72",fill:"#1a1a1e"}),x("text",{x:c,y:l+.38,"font-size":"1.05","font-weight":"700",fill:"#fff","text-anchor":"middle",children:r+1})]},r)})})}function lg({from_y:n,to_y:e,to_x:t}){const i=[];for(let r=0;r<=t;r++)i.push(x("path",{d:`M${n} ${r}H${e}`,stroke:"#1a1a1e","stroke-width":r%5===0?.09:.03},`x${r}`));for(let r=Math.ceil(n);r<=e;r++)i.push(x("path",{d:`M${r} 0V${t}`,stroke:"#1a1a1e","stroke-width":r%5===0?.09:.03},`y${r}`));return x("g",{opacity:"0.6",children:i})}function Ru({from_y:n,to_y:e,to_x:t}){const i=[];for(let s=0;s<=t;s+=5)i.push(s);const r=[];for(let s=Math.ceil(n/2)*2;s<=e;s+=2)r.push(s);return x("g",{"font-size":"1",fill:"currentColor",stroke:"none",children:[i.map(s=>x("text",{x:n-.35,y:s+.35,"text-anchor":"end",children:s},s)),r.map(s=>x("text",{x:s,y:t+1.25,"text-anchor":"middle",children:s},s))]})}function Cu(n){const e=[...n.data.zones].filter(t=>t.difference_um!==null&&t.verdict==="outside").sort((t,i)=>Math.abs(i.difference_um??0)-Math.abs(t.difference_um??0)).slice(0,3).map(t=>`${N(t.across)}, ${N(t.along)}: ${Ut(t.difference_um??0,0,!0)}`);return`${N(n.colours.value)}. ${en(n.data.headline).text} ${e.join("; ")}`}function Pu(n,e){const t=n.grid.columns/2;return e?{firstRow:0,rows:n.grid.rows,firstColumn:t,columns:t}:bo(n)}function cg({reed:n,folded:e}){const t=n.colours.value,i=n.mapShown(t),r=n.longest_mm,s=Math.max(...i.halfWidth_mm),a=e?0:-s,o=Pu(i,e),l=n.shown.value,c=pr(()=>Tu(Ls(i,l,n.palettes,o)),[i,l,e]),u=n.shownBefore.value,d=u!==null&&n.before!==null,h=n.before?Pu(n.before,e):o,p=pr(()=>u&&n.before?Tu(Ls(n.before,u,n.palettes,h)):"",[u,e]),g=n.clipped_mm,_=i===n.before?g:0,m=Jt(!1),f=-1-_,E=[a-Au-(e?.6:0),f,s-a+2*Au+(e?.6:0),r+2-f],y=w=>{const b=w.currentTarget,P=new DOMPoint(w.clientX,w.clientY).matrixTransform(b.getScreenCTM()?.inverse());n.moveCursor(P.y,e?Math.max(0,P.x):P.x)},{x_mm:M,y_mm:C}=n.cursor.value,A=e?Math.abs(C):C,D=a+(s-a)*n.wipe.value,F=(w,b,P)=>x("image",{href:w,x:(P.firstColumn-.5*b.grid.columns)*b.grid.cell_mm,y:P.firstRow*b.grid.cell_mm,width:P.columns*b.grid.cell_mm,height:P.rows*b.grid.cell_mm,preserveAspectRatio:"none"});return x("svg",{class:"flat","data-view":e?"folded":"flat",viewBox:E.map(w=>w.toFixed(2)).join(" "),role:"img","aria-label":Cu(n),onPointerDown:w=>{m.value=!0,w.currentTarget.setPointerCapture(w.pointerId),y(w)},onPointerMove:w=>{(m.value||w.pointerType==="mouse")&&y(w)},onPointerUp:()=>m.value=!1,onPointerCancel:()=>m.value=!1,children:[x("defs",{children:[x("clipPath",{id:"rim",children:x("path",{d:wo(i.rim)})}),x("clipPath",{id:"extent",children:x("rect",{x:a-(e?.1:1),y:f,width:s-a+2,height:r-f})}),x("clipPath",{id:"was",children:x("rect",{x:-s-1,y:f,width:D+s+1,height:r-f})}),x("clipPath",{id:"is",children:x("rect",{x:D,y:f,width:s-D+1,height:r-f})})]}),x("g",{"clip-path":"url(#extent)",children:[x("g",{"clip-path":d?"url(#is)":void 0,children:x("g",{transform:`translate(0 ${-_})`,children:x("g",{"clip-path":"url(#rim)",children:F(c,i,o)})})}),d&&n.before?x("g",{"clip-path":"url(#was)",children:x("g",{"clip-path":"url(#rim)",children:x("g",{transform:`translate(0 ${-g})`,children:F(p,n.before,h)})})}):null,n.showGrid.value?x(lg,{from_y:a,to_y:s,to_x:r}):null,n.showZones.value?x("path",{d:sg(n,n.map,e),stroke:"#1a1a1e","stroke-width":"0.07",fill:"none","clip-path":_>0?void 0:"url(#rim)"}):null,x("path",{d:wo(i.rim),fill:"none",stroke:"currentColor","stroke-width":"0.14",transform:`translate(0 ${-_})`}),x("path",{d:`M0 0V${r}`,stroke:"#1a1a1e","stroke-width":"0.06","stroke-dasharray":"0.5 0.35"}),t==="removed"&&n.data.before?x("g",{transform:`translate(0 ${-_})`,children:x(yo,{steps:n.data.before.plan.steps})}):t==="plan"||t==="leftRight"&&!e?x(yo,{steps:n.data.plan.steps,folded:e}):null,t==="leftRight"&&n.showZones.value?x(og,{reed:n,folded:e}):null,d?x("path",{d:`M${D} 0V${r}`,stroke:"#1a1a1e","stroke-width":"0.2"}):null,x("g",{stroke:"#fff","stroke-width":"0.28",fill:"none",children:[x("path",{d:`M${A-1.4} ${M}h1M${A+.4} ${M}h1M${A} ${M-1.4}v1M${A} ${M+.4}v1`}),x("path",{d:`M${A-1.4} ${M}h1M${A+.4} ${M}h1M${A} ${M-1.4}v1M${A} ${M+.4}v1`,stroke:"#1a1a1e","stroke-width":"0.14"})]})]}),d?x("g",{"font-size":"1",fill:"currentColor",children:[x("text",{x:D-.3,y:"-0.25","text-anchor":"end",children:N("before")}),x("text",{x:D+.3,y:"-0.25",children:N("after")})]}):null,x(Ru,{from_y:a,to_y:s,to_x:r})]})}function hg(n,e){let t=[...n];if(t.shift()!=="read")return{kind:"cautions"};if(e.needsRollingTest){const r=t.shift();if(r==="test-failed")return{kind:"take-nothing-off"};if(r!=="test-passed")return{kind:"rolling-test"}}return!t.includes("stopped")&&t.length<e.steps?{kind:"step",step:t.length}:(t=t.slice(0,e.steps),{kind:"scan-again",done:t.filter(r=>r==="done"||r==="stopped").length})}function Du(n,e){const t=e.needsRollingTest?2:1;return Array.from({length:e.steps},(i,r)=>{const s=n[t+r];return s==="done"||s==="skipped"||s==="stopped"?s:null})}function ug(n,e){const t=Du(n,e);if(t.every(r=>r===null))return null;const i={done:1,stopped:.5,skipped:0};return t.map(r=>r===null?0:i[r])}const dg=["read","test-passed","test-failed","done","skipped","stopped"];function Eo(n){try{const e=JSON.parse(n??"[]");return Array.isArray(e)&&e.every(t=>dg.includes(t))?e:[]}catch{return[]}}function fg(n){let e=2166136261;for(const t of n)e=Math.imul(e^(t.codePointAt(0)??0),16777619);return(e>>>0).toString(16)}function Ns(n,e){return N(n).replace(/\{(\w+)\}/g,(t,i)=>String(e[i]??""))}function Lu(n){const e=Math.round(n);return e-n===.5&&e%2!==0?e-1:e}function Rr(n){return Ns("where",{place:N(`place_${n.side}_${n.across}`),from:Lu(n.from_mm),to:Lu(n.to_mm)})}function pg(n,e){const t=N(n.side==="left"?"right":"left");return`${Rr(n)}: ${Ns(n.thin?"faultThin":"faultThick",{size:e,side:t})}`}function Nu(n){const e=n.pause===1?N("stopEveryOne"):Ns("stopEvery",{n:n.pause}),t=n.strokes===1?N("stopForGoodOne"):Ns("stopForGood",{n:n.strokes});return`${e} ${N(n.aim==="balance"?"goOnBalance":"goOnSofter")} ${t}`}const mg=.02;function gg(n,e){if(n.aim!=="balance")return N(`purpose_${n.aim}`);if(n.for_bending)return N("purpose_bending");const t=n.side==="right"?e.cane_right_over_left:-e.cane_right_over_left;return N(t>mg?"purpose_cane":"purpose_balance")}const To=85.6,Uu=53.98,_g=96/25.4;function Iu(n,e){return"guide."+fg(n+JSON.stringify(e))}function ku(n){return`/reed/${encodeURIComponent(n)}/`}function Fu(n){const e=n.before&&Ou()?new URLSearchParams(location.search).get("after"):null;return Iu(e===null?location.pathname:ku(e),n.data.plan)}function Ou(){return document.querySelector('nav a[href="/"]')!==null}const Oi=it(Number(ki("px-per-mm"))||null);function vg({onClose:n}){const e=Jt(Oi.value??_g);return x("div",{class:"card-page",children:[x("h2",{children:N("setScale")}),x("p",{children:N("cardText")}),x("svg",{class:"card",width:To*e.value,height:Uu*e.value,role:"img","aria-label":N("cardText"),children:x("rect",{x:"1",y:"1",width:To*e.value-2,height:Uu*e.value-2,rx:"12",fill:"none",stroke:"currentColor","stroke-width":"2"})}),x("label",{class:"wide",children:[N("cardWidth")," ",Math.round(To*e.value)," px",x("input",{type:"range",min:"2",max:"9",step:"0.01",value:e.value,onInput:t=>e.value=Number(t.currentTarget.value)})]}),x("div",{class:"big-row",children:[x("button",{class:"main",onClick:()=>{Oi.value=e.value,Fi("px-per-mm",e.value.toFixed(3)),n()},children:N("save")}),x("button",{onClick:n,children:N("close")})]})]})}function xg({reed:n,step:e,trueSize:t}){const i=n.map,r=n.data.vamp_mm+1,s=Math.max(...i.halfWidth_mm),a=n.data.plan.steps[e],o={x:-s-2,y:-1.6,width:2*s+4,height:r+4.9},l=t?Oi.value:null,c=i.rim.map(([u,d],h)=>`${h===0?"M":"L"}${d.toFixed(2)} ${u.toFixed(2)}`).join("")+"Z";return x("svg",{class:l?"place true-size":"place",viewBox:`${o.x} ${o.y} ${o.width} ${o.height}`,width:l?o.width*l:void 0,height:l?o.height*l:void 0,role:"img","aria-label":`${a?Rr(a):""}. ${N("tipUp")}`,children:[x("clipPath",{id:"guide-extent",children:x("rect",{x:o.x,y:o.y,width:o.width,height:r-o.y})}),x("g",{"clip-path":"url(#guide-extent)",children:[x("path",{d:c,fill:"#ece2cc",stroke:"currentColor","stroke-width":"0.16"}),x("path",{d:`M0 0V${r}`,stroke:"#1a1a1e","stroke-width":"0.06","stroke-dasharray":"0.5 0.35"}),x(yo,{steps:n.data.plan.steps,lit:e})]}),x("g",{"font-size":"1.15","font-weight":"700",fill:"currentColor",children:[x("text",{x:-s,y:"-0.45",children:N("left")}),x("text",{x:s,y:"-0.45","text-anchor":"end",children:N("right")})]}),x("text",{x:"0",y:r+2.9,"font-size":"1.1","text-anchor":"middle",fill:"currentColor",children:N("tipUp")}),x(Ru,{from_y:-s,to_y:s,to_x:r})]})}function Sg({reed:n,onClose:e}){const t=n.data.plan,i=Fu(n),r=Jt(Eo(ki(i))),s=Jt(!1),a=Jt(Oi.value!==null),o=Kn(null),l=Kn(null),c={steps:t.steps.length,needsRollingTest:t.needs_rolling_test},u=hg(r.value,c),d=m=>{r.value=m,Fi(i,m.length>0?JSON.stringify(m):null)},h=m=>d([...r.value,m]);In(()=>{o.current?.showModal()},[]),In(()=>l.current?.focus(),[r.value.length]);const p=r.value.length>0?x("button",{onClick:()=>d(r.value.slice(0,-1)),children:N("undo")}):null,g=Du(r.value,c),_=()=>{switch(u.kind){case"cautions":return x(Et,{children:[x("h2",{ref:l,tabIndex:-1,children:N("beforeYouScrape")}),x("ul",{class:"big-list",children:[n.data.cautions.map((m,f)=>{const E=`caution_${f+1}`;return x("li",{children:po(E)?N(E):m},E)}),n.data.handedness_checked?null:x("li",{children:N("unchecked")})]}),x("div",{class:"big-row",children:x("button",{class:"main",onClick:()=>h("read"),children:N("understood")})})]});case"rolling-test":return x(Et,{children:[x("h2",{ref:l,tabIndex:-1,children:N("rollingTitle")}),x("p",{children:N("rollingText")}),x("p",{children:x("strong",{children:N(t.steps[0]?.side==="left"?"side_left":"side_right")})}),x("div",{class:"big-row",children:[x("button",{class:"main",onClick:()=>h("test-passed"),children:N("rollingYes")}),x("button",{class:"main",onClick:()=>h("test-failed"),children:N("rollingNo")}),p]})]});case"take-nothing-off":return x(Et,{children:[x("h2",{ref:l,tabIndex:-1,children:N("takeNothingOff")}),x("p",{children:N("rollingStop")}),x("div",{class:"big-row",children:[x("button",{class:"main",onClick:()=>o.current?.close(),children:N("close")}),p]})]});case"step":{const m=t.steps[u.step];return m?x("div",{class:"step-page",children:[x(xg,{reed:n,step:u.step,trueSize:a.value}),x("div",{children:[x("h2",{ref:l,tabIndex:-1,children:[x("span",{class:"soft",children:[N("step")," ",u.step+1," ",N("of")," ",t.steps.length]}),x("br",{}),Rr(m)]}),x("p",{class:"huge",children:[N("about")," ",m.strokes," ",N(m.strokes===1?"stroke":"strokes")]}),x("p",{children:[Ut(m.depth_um)," ",Fn(Tt.value)," ",N("depth"),"."]}),x("p",{class:"stop",children:[x("strong",{children:[N("whenToStop"),":"]})," ",Nu(m)]}),x("div",{class:"big-row",children:[x("button",{class:"main",onClick:()=>h("done"),children:N("done")}),x("button",{onClick:()=>h("stopped"),children:N(m.aim==="balance"?"alike":"softEnough")}),x("button",{onClick:()=>h("skipped"),children:N("skip")}),p]}),x("div",{class:"row",children:[Oi.value===null?null:x("label",{class:"check",children:[x("input",{type:"checkbox",checked:a.value,onChange:f=>a.value=f.currentTarget.checked})," ",N("trueSize")]}),x("button",{onClick:()=>s.value=!0,children:N("setScale")})]})]})]}):null}case"scan-again":return x(Et,{children:[x("h2",{ref:l,tabIndex:-1,children:N("scanAgainTitle")}),x("p",{children:u.done>0?N("scanAgain"):N("nothingDone")}),x("div",{class:"big-row",children:[p,x("button",{onClick:()=>d([]),children:N("startOver")}),u.done>0&&Ou()?x("a",{class:"button main",href:"/",children:N("dropNew")}):null,x("button",{class:"main",onClick:()=>o.current?.close(),children:N("close")})]})]})}};return x("dialog",{class:"guide",ref:o,"aria-label":N("guide"),onClose:e,"data-page":u.kind,children:[x("div",{class:"guide-top",children:[x("ol",{class:"progress",children:g.map((m,f)=>x("li",{"data-mark":m??(u.kind==="step"&&u.step===f?"now":"open"),children:[f+1,x("span",{class:"mark",children:m==="done"||m==="stopped"?"✓":m==="skipped"?"–":""}),x("span",{class:"unseen",children:m==="done"||m==="stopped"?N("marked_done"):m==="skipped"?N("marked_skipped"):""})]},f))}),x("button",{onClick:()=>o.current?.close(),children:N("close")})]}),s.value?x(vg,{onClose:()=>{s.value=!1,a.value=Oi.value!==null}}):_()]})}const Bu=300;function bg(n,e){const t=n.data.before?.plan,i=t?.steps.length??0,r=(e.get("strokes_done")??"1").split(",").map(Number),s=Array.from({length:i},(l,c)=>Math.round(100*(r[c]??r[0]??1)));if(e.has("strokes_done")||!t)return{counted:s,known:s};const a={steps:i,needsRollingTest:t.needs_rolling_test},o=ug(Eo(ki(Iu(ku(e.get("before")??""),t))),a);return{counted:s,known:o?.map(l=>Math.round(100*l))??s}}function Mg({reed:n,token:e,known:t}){const i=new URLSearchParams(location.search),r=bg(n,i),s=Jt(r.known),a=Jt({state:t?"kept":"not yet"});if(a.value.state==="kept")return x("p",{role:"status",children:N("handKept")});const o=()=>{const h=new URLSearchParams(i);return h.set("strokes_done",s.value.map(p=>String(p/100)).join(",")),`/compare?${h}`},l=async()=>{a.value={state:"asking"};const h=await fetch(`/api/hand?${i}`,{method:"POST",headers:{"X-Canewise-Token":e}}).catch(()=>null);h?.ok?a.value={state:"kept"}:a.value={state:"failed",why:(await h?.json().catch(()=>null))?.message??N("lost")}},c=s.value.every(h=>h>=0&&h<=Bu)&&s.value.some(h=>h>0),u=s.value.some((h,p)=>h!==r.counted[p]),d=a.value.state==="failed"?en(a.value.why):null;return x(Et,{children:[x("fieldset",{children:[x("legend",{children:N("strokesMade")}),(n.data.before?.plan.steps??[]).map((h,p)=>x("label",{class:"wide",children:[p+1,". ",Rr(h),":",x("span",{class:"together",children:[x("input",{type:"number",min:"0",max:Bu,step:"1",value:s.value[p],onInput:g=>{const _=g.currentTarget.valueAsNumber;s.value=s.value.map((m,f)=>f===p?_:m)}})," ","%"]})]},p)),u&&c?x("a",{class:"button main",href:o(),children:N("countAgain")}):x("button",{disabled:!c||a.value.state==="asking",onClick:()=>void l(),children:N("keepHand")})]}),d?x("p",{role:"alert",lang:d.lang,children:d.text}):null]})}function zu(n,e){let t=n.filter(i=>i.started&&!Bi(i.job.value.state)).length;for(const i of n){if(t>=e)return;i.started||Bi(i.job.value.state)||(i.start(),t++)}}function Us(n,e){return{...n,state:e.state,fraction:e.fraction??(e.state==="done"?1:n.fraction),message:e.message??"",result:e.result??n.result}}function Bi(n){return n==="done"||n==="refused"||n==="cancelled"||n==="lost"}function wg(n,e,t,i){const r=it({file:n.name,state:"waiting",fraction:0,message:"",result:""}),s=new XMLHttpRequest,a=8e3;let o=0,l=null,c="";const u=_=>{clearTimeout(o),l?.close(),!Bi(r.value.state)&&(r.value=Us(r.value,_),i())},d=()=>{l=new EventSource(`/api/jobs/${c}/events`),l.onopen=()=>{clearTimeout(o),o=0},l.onmessage=_=>{const m=JSON.parse(_.data);Bi(m.state)?u(m):r.value=Us(r.value,m)},l.onerror=()=>{l?.readyState===EventSource.CLOSED?u({state:"lost"}):o===0&&(o=window.setTimeout(()=>u({state:"lost"}),a))}},h=new URLSearchParams({name:n.name,state:e.state,rolling_test:e.rolling_test});s.open("POST",`/api/scans?${h}`),s.setRequestHeader("X-Canewise-Token",t),s.setRequestHeader("Content-Type","application/octet-stream"),s.upload.onprogress=_=>{_.lengthComputable&&(r.value={...r.value,fraction:_.loaded/_.total})},s.onload=()=>{const _=JSON.parse(s.responseText||"{}");s.status===202&&_.id?(c=_.id,r.value=Us(r.value,{state:"waiting",fraction:0}),d()):u({state:"refused",message:_.message??`HTTP ${s.status}`})},s.onerror=()=>u({state:"lost"}),s.onabort=()=>u({state:"cancelled"});const p=async()=>{(await fetch(`/api/jobs/${c}`,{method:"DELETE",headers:{"X-Canewise-Token":t}}).catch(()=>null))?.ok||u({state:"lost"})},g={job:r,started:!1,start:()=>{g.started=!0,r.value=Us(r.value,{state:"uploading",fraction:0}),s.send(n)},cancel:()=>{g.started?c===""?s.abort():p():u({state:"cancelled"})}};return g}function yg(n){const e=new Date(n.measured_at),t=Number.isNaN(e.getTime())?n.measured_at:e.toLocaleString(Xt.value,{dateStyle:"medium",timeStyle:"short"}),i=`state_${n.state}`;return po(i)?`${t}, ${N(i)}`:t}const Cr=it(null),si=it([]),Ao=it(!1),Hu=it(!1),Vu=2;async function Gu(){try{const n=await fetch("/api/results");Cr.value=(await n.json()).results,Ao.value=!1}catch{Ao.value=!0}}function Eg({running:n}){const e=n.job.value,t=en(e.message.replace(`${e.file}: `,"")),i=e.state==="uploading"||e.state==="waiting"||e.state==="cancelled"||e.state==="lost"?N(e.state):e.state==="done"?N("finished"):t.text;return x("li",{class:"job","data-state":e.state,children:[x("p",{children:[x("strong",{children:e.file})," ",x("span",{"aria-live":"polite",lang:e.message===""?void 0:t.lang,children:i})]}),Bi(e.state)?null:x("progress",{max:"1",value:e.fraction,"aria-label":`${e.file}: ${i}`}),x("div",{class:"row",children:[e.state==="done"?x("a",{class:"button main",href:`/reed/${encodeURIComponent(e.result)}/`,children:N("open")}):null,Bi(e.state)?x("button",{onClick:()=>si.value=si.value.filter(r=>r!==n),children:N("dismiss")}):x("button",{onClick:n.cancel,children:N("cancel")})]})]})}function Wu(n,e){return`/compare?${new URLSearchParams({before:n?.name??"",after:e?.name??""})}`}function Tg({token:n}){const e=Jt({state:ki("state")??"unknown",rolling_test:"not-done"}),t=Jt(!1),i=Jt([]),r=a=>{const o=()=>{zu(si.value,Vu),Gu()};si.value=[...si.value,...Array.from(a,l=>wg(l,e.value,n,o))],zu(si.value,Vu)};In(()=>{Gu();const a=l=>{l.preventDefault(),t.value=l.type==="dragover"},o=l=>{l.preventDefault(),t.value=!1;const c=[...l.dataTransfer?.items??[]];Hu.value=c.some(u=>u.webkitGetAsEntry()?.isDirectory),r(c.flatMap(u=>u.kind!=="file"||u.webkitGetAsEntry()?.isDirectory?[]:u.getAsFile()??[]))};return window.addEventListener("dragover",a),window.addEventListener("dragleave",a),window.addEventListener("drop",o),()=>{window.removeEventListener("dragover",a),window.removeEventListener("dragleave",a),window.removeEventListener("drop",o)}},[]);const s=(Cr.value??[]).filter(a=>i.value.includes(a.name)).sort((a,o)=>a.measured_at.localeCompare(o.measured_at));return x(Et,{children:[x("h1",{children:N("homeTitle")}),x("div",{class:t.value?"drop over":"drop",children:[x("div",{class:"row",children:[x("label",{children:[N("moisture"),x("select",{value:e.value.state,onChange:a=>{e.value={...e.value,state:a.currentTarget.value},Fi("state",a.currentTarget.value)},children:["unknown","dry","wet"].map(a=>x("option",{value:a,children:N(`state_${a}`)},a))})]}),x("label",{children:[N("rolling"),x("select",{value:e.value.rolling_test,onChange:a=>e.value={...e.value,rolling_test:a.currentTarget.value},children:["not-done","left","right","even"].map(a=>x("option",{value:a,children:N(`rolling_${a}`)},a))})]})]}),x("label",{class:"button main",children:[N("drop"),x("input",{class:"unseen",type:"file",multiple:!0,onChange:a=>{r(a.currentTarget.files??[]),a.currentTarget.value=""}})]}),x("p",{class:"soft",children:N("dropHint")})]}),x("ul",{class:"jobs",children:si.value.map((a,o)=>x(Eg,{running:a},o))}),Hu.value?x("p",{role:"alert",children:N("noFolders")}):null,Ao.value?x("p",{role:"alert",children:N("lost")}):null,Cr.value?.length===0?x("p",{children:N("none")}):null,s.length===2?x(Et,{children:[x("p",{class:"row",children:[x("a",{class:"button main",href:Wu(s[0],s[1]),children:N("compareTwo")}),x("a",{class:"button",href:Wu(s[1],s[0]),children:N("otherWay")})]}),x("p",{class:"soft",children:[N("before"),": ",s[0]?.name,"; ",N("after"),": ",s[1]?.name]})]}):(Cr.value?.length??0)>1?x("p",{class:"soft",children:N("compareHint")}):null,x("ul",{class:"reeds",children:(Cr.value??[]).map(a=>x("li",{children:[x("a",{href:`/reed/${encodeURIComponent(a.name)}/`,children:[x("span",{class:"small-picture",children:x("img",{src:`/reed/${encodeURIComponent(a.name)}/balance.png`,alt:"",loading:"lazy"})}),x("strong",{children:a.name}),x("span",{children:yg(a)}),x("span",{lang:en(a.headline).lang,children:en(a.headline).text})]}),x("label",{class:"check",children:[x("input",{type:"checkbox",checked:i.value.includes(a.name),disabled:i.value.length>=2&&!i.value.includes(a.name),onChange:o=>i.value=o.currentTarget.checked?[...i.value,a.name]:i.value.filter(l=>l!==a.name)})," ",N("mark")," ",x("span",{class:"unseen",children:a.name})]})]},a.name))})]})}function Ag(){return x("details",{class:"menu reader",children:[x("summary",{children:N("tools")}),x("div",{children:[x("label",{children:[N("units"),x("select",{value:Tt.value,onChange:n=>Tt.value=n.currentTarget.value,children:[x("option",{value:"um",children:N("um")}),x("option",{value:"thou",children:N("thou")})]})]}),x("label",{children:[N("look"),x("select",{value:Ar.value,onChange:n=>Ar.value=n.currentTarget.value,children:["asSystem","light","dark"].map(n=>x("option",{value:n,children:N(n)},n))})]}),x("label",{children:[N("languageLabel"),x("select",{value:Xt.value,onChange:n=>Xt.value=n.currentTarget.value,children:ri.map(n=>x("option",{value:n,children:Tr(n,"language")},n))})]})]})]})}function Rg({reed:n}){const e=n.data.plan;return x("ol",{class:"steps",children:e.steps.map((t,i)=>x("li",{children:[x("strong",{children:Rr(t)}),": ",Ut(t.depth_um)," ",Fn(Tt.value),", ",gg(t,e),"; ",N("about")," ",t.strokes," ",N(t.strokes===1?"stroke":"strokes"),".",x("br",{}),Nu(t)]},i))})}function $u(n,e){switch(n.name){case"leftRight":case"beforeAfter":return N("overPartner");case"target":return N("overTarget");case"removed":return N(e.data.left_right_only?"offOneSide":"offThere");case"plan":return N("takeOff");case"stiffness":return N("perTen_stiffness");case"balance":return N("perTen_balance");case"sureness":return N("sureness");case"thickness":return N("thickness")}}function Ro(n,e,t){if(n.unit==="percent"){const i=Math.abs(e).toFixed(3);return(Number(i)===0?"":e<0?"-":t?"+":"")+Sn(i)}return Ut(e,0,t)}function Xu(n){const e=n.shown.value,t=[N("unknown"),...e.diverging&&e.unit==="um"?[N("pale")]:[],...e.diverging?[N("dots")]:[]];return`${$u(e,n)}, ${e.unit==="percent"?"%":Fn(Tt.value)}; ${t.join("; ")}.`}function Cg({reed:n}){const e=n.shown.value,t=e.diverging?n.palettes.diverging:n.palettes.sequential,i=48,r=[e.low,.5*(e.low+e.high),e.high],s=e.unit==="percent"?"%":Fn(Tt.value);return x("div",{class:"legend",children:[x("svg",{viewBox:"0 0 300 42",role:"img","aria-label":`${$u(e,n)}, ${s}: ${r.map(a=>Ro(e,a,e.diverging)).join(", ")}`,children:[Array.from({length:i},(a,o)=>{const{r:l,g:c,b:u}=t.at(o/(i-1));return x("rect",{x:10+280/i*o,y:"2",width:280/i+.6,height:"16",fill:`rgb(${l},${c},${u})`},o)}),r.map((a,o)=>x("text",{x:10+140*o,y:"36","font-size":"14",fill:"currentColor","text-anchor":o===0?"start":o===1?"middle":"end",children:Ro(e,a,e.diverging)},o))]}),x("p",{children:[Xu(n)," ",x("svg",{class:"sample",viewBox:"0 0 16 16","aria-hidden":"true",children:[x("rect",{width:"16",height:"16",fill:rg}),x("path",{d:"M-2 10L10 -2M-2 18L18 -2M6 18L18 6",stroke:"rgb(150,150,150)","stroke-width":"2.5"})]})]})]})}const Co="180",zi={ROTATE:0,DOLLY:1,PAN:2},Hi={ROTATE:0,PAN:1,DOLLY_PAN:2,DOLLY_ROTATE:3},Pg=0,qu=1,Dg=2,Yu=1,Lg=2,bn=3,On=0,It=1,Ht=2,Bn=0,Vi=1,ju=2,Zu=3,Ku=4,Ng=5,ai=100,Ug=101,Ig=102,kg=103,Fg=104,Og=200,Bg=201,zg=202,Hg=203,Po=204,Do=205,Vg=206,Gg=207,Wg=208,$g=209,Xg=210,qg=211,Yg=212,jg=213,Zg=214,Lo=0,No=1,Uo=2,Gi=3,Io=4,ko=5,Fo=6,Oo=7,Ju=0,Kg=1,Jg=2,zn=0,Qg=1,e_=2,t_=3,n_=4,i_=5,r_=6,s_=7,Qu=300,Wi=301,$i=302,Bo=303,zo=304,Is=306,Ho=1e3,oi=1001,Vo=1002,tn=1003,a_=1004,ks=1005,nn=1006,Go=1007,li=1008,Mn=1009,ed=1010,td=1011,Pr=1012,Wo=1013,ci=1014,wn=1015,Dr=1016,$o=1017,Xo=1018,Lr=1020,nd=35902,id=35899,rd=1021,sd=1022,rn=1023,Nr=1026,Ur=1027,ad=1028,qo=1029,od=1030,Yo=1031,jo=1033,Fs=33776,Os=33777,Bs=33778,zs=33779,Zo=35840,Ko=35841,Jo=35842,Qo=35843,el=36196,tl=37492,nl=37496,il=37808,rl=37809,sl=37810,al=37811,ol=37812,ll=37813,cl=37814,hl=37815,ul=37816,dl=37817,fl=37818,pl=37819,ml=37820,gl=37821,_l=36492,vl=36494,xl=36495,Sl=36283,bl=36284,Ml=36285,wl=36286,o_=3200,l_=3201,c_=0,h_=1,Hn="",qt="srgb",hi="srgb-linear",Hs="linear",je="srgb",Xi=7680,ld=519,u_=512,d_=513,f_=514,cd=515,p_=516,m_=517,g_=518,__=519,hd=35044,ud="300 es",pn=2e3,Vs=2001;class ui{addEventListener(e,t){this._listeners===void 0&&(this._listeners={});const i=this._listeners;i[e]===void 0&&(i[e]=[]),i[e].indexOf(t)===-1&&i[e].push(t)}hasEventListener(e,t){const i=this._listeners;return i===void 0?!1:i[e]!==void 0&&i[e].indexOf(t)!==-1}removeEventListener(e,t){const i=this._listeners;if(i===void 0)return;const r=i[e];if(r!==void 0){const s=r.indexOf(t);s!==-1&&r.splice(s,1)}}dispatchEvent(e){const t=this._listeners;if(t===void 0)return;const i=t[e.type];if(i!==void 0){e.target=this;const r=i.slice(0);for(let s=0,a=r.length;s<a;s++)r[s].call(this,e);e.target=null}}}const At=["00","01","02","03","04","05","06","07","08","09","0a","0b","0c","0d","0e","0f","10","11","12","13","14","15","16","17","18","19","1a","1b","1c","1d","1e","1f","20","21","22","23","24","25","26","27","28","29","2a","2b","2c","2d","2e","2f","30","31","32","33","34","35","36","37","38","39","3a","3b","3c","3d","3e","3f","40","41","42","43","44","45","46","47","48","49","4a","4b","4c","4d","4e","4f","50","51","52","53","54","55","56","57","58","59","5a","5b","5c","5d","5e","5f","60","61","62","63","64","65","66","67","68","69","6a","6b","6c","6d","6e","6f","70","71","72","73","74","75","76","77","78","79","7a","7b","7c","7d","7e","7f","80","81","82","83","84","85","86","87","88","89","8a","8b","8c","8d","8e","8f","90","91","92","93","94","95","96","97","98","99","9a","9b","9c","9d","9e","9f","a0","a1","a2","a3","a4","a5","a6","a7","a8","a9","aa","ab","ac","ad","ae","af","b0","b1","b2","b3","b4","b5","b6","b7","b8","b9","ba","bb","bc","bd","be","bf","c0","c1","c2","c3","c4","c5","c6","c7","c8","c9","ca","cb","cc","cd","ce","cf","d0","d1","d2","d3","d4","d5","d6","d7","d8","d9","da","db","dc","dd","de","df","e0","e1","e2","e3","e4","e5","e6","e7","e8","e9","ea","eb","ec","ed","ee","ef","f0","f1","f2","f3","f4","f5","f6","f7","f8","f9","fa","fb","fc","fd","fe","ff"],Gs=Math.PI/180,yl=180/Math.PI;function Ir(){const n=Math.random()*4294967295|0,e=Math.random()*4294967295|0,t=Math.random()*4294967295|0,i=Math.random()*4294967295|0;return(At[n&255]+At[n>>8&255]+At[n>>16&255]+At[n>>24&255]+"-"+At[e&255]+At[e>>8&255]+"-"+At[e>>16&15|64]+At[e>>24&255]+"-"+At[t&63|128]+At[t>>8&255]+"-"+At[t>>16&255]+At[t>>24&255]+At[i&255]+At[i>>8&255]+At[i>>16&255]+At[i>>24&255]).toLowerCase()}function Be(n,e,t){return Math.max(e,Math.min(t,n))}function v_(n,e){return(n%e+e)%e}function El(n,e,t){return(1-t)*n+t*e}function kr(n,e){switch(e.constructor){case Float32Array:return n;case Uint32Array:return n/4294967295;case Uint16Array:return n/65535;case Uint8Array:return n/255;case Int32Array:return Math.max(n/2147483647,-1);case Int16Array:return Math.max(n/32767,-1);case Int8Array:return Math.max(n/127,-1);default:throw new Error("Invalid component type.")}}function kt(n,e){switch(e.constructor){case Float32Array:return n;case Uint32Array:return Math.round(n*4294967295);case Uint16Array:return Math.round(n*65535);case Uint8Array:return Math.round(n*255);case Int32Array:return Math.round(n*2147483647);case Int16Array:return Math.round(n*32767);case Int8Array:return Math.round(n*127);default:throw new Error("Invalid component type.")}}const x_={DEG2RAD:Gs};class ke{constructor(e=0,t=0){ke.prototype.isVector2=!0,this.x=e,this.y=t}get width(){return this.x}set width(e){this.x=e}get height(){return this.y}set height(e){this.y=e}set(e,t){return this.x=e,this.y=t,this}setScalar(e){return this.x=e,this.y=e,this}setX(e){return this.x=e,this}setY(e){return this.y=e,this}setComponent(e,t){switch(e){case 0:this.x=t;break;case 1:this.y=t;break;default:throw new Error("index is out of range: "+e)}return this}getComponent(e){switch(e){case 0:return this.x;case 1:return this.y;default:throw new Error("index is out of range: "+e)}}clone(){return new this.constructor(this.x,this.y)}copy(e){return this.x=e.x,this.y=e.y,this}add(e){return this.x+=e.x,this.y+=e.y,this}addScalar(e){return this.x+=e,this.y+=e,this}addVectors(e,t){return this.x=e.x+t.x,this.y=e.y+t.y,this}addScaledVector(e,t){return this.x+=e.x*t,this.y+=e.y*t,this}sub(e){return this.x-=e.x,this.y-=e.y,this}subScalar(e){return this.x-=e,this.y-=e,this}subVectors(e,t){return this.x=e.x-t.x,this.y=e.y-t.y,this}multiply(e){return this.x*=e.x,this.y*=e.y,this}multiplyScalar(e){return this.x*=e,this.y*=e,this}divide(e){return this.x/=e.x,this.y/=e.y,this}divideScalar(e){return this.multiplyScalar(1/e)}applyMatrix3(e){const t=this.x,i=this.y,r=e.elements;return this.x=r[0]*t+r[3]*i+r[6],this.y=r[1]*t+r[4]*i+r[7],this}min(e){return this.x=Math.min(this.x,e.x),this.y=Math.min(this.y,e.y),this}max(e){return this.x=Math.max(this.x,e.x),this.y=Math.max(this.y,e.y),this}clamp(e,t){return this.x=Be(this.x,e.x,t.x),this.y=Be(this.y,e.y,t.y),this}clampScalar(e,t){return this.x=Be(this.x,e,t),this.y=Be(this.y,e,t),this}clampLength(e,t){const i=this.length();return this.divideScalar(i||1).multiplyScalar(Be(i,e,t))}floor(){return this.x=Math.floor(this.x),this.y=Math.floor(this.y),this}ceil(){return this.x=Math.ceil(this.x),this.y=Math.ceil(this.y),this}round(){return this.x=Math.round(this.x),this.y=Math.round(this.y),this}roundToZero(){return this.x=Math.trunc(this.x),this.y=Math.trunc(this.y),this}negate(){return this.x=-this.x,this.y=-this.y,this}dot(e){return this.x*e.x+this.y*e.y}cross(e){return this.x*e.y-this.y*e.x}lengthSq(){return this.x*this.x+this.y*this.y}length(){return Math.sqrt(this.x*this.x+this.y*this.y)}manhattanLength(){return Math.abs(this.x)+Math.abs(this.y)}normalize(){return this.divideScalar(this.length()||1)}angle(){return Math.atan2(-this.y,-this.x)+Math.PI}angleTo(e){const t=Math.sqrt(this.lengthSq()*e.lengthSq());if(t===0)return Math.PI/2;const i=this.dot(e)/t;return Math.acos(Be(i,-1,1))}distanceTo(e){return Math.sqrt(this.distanceToSquared(e))}distanceToSquared(e){const t=this.x-e.x,i=this.y-e.y;return t*t+i*i}manhattanDistanceTo(e){return Math.abs(this.x-e.x)+Math.abs(this.y-e.y)}setLength(e){return this.normalize().multiplyScalar(e)}lerp(e,t){return this.x+=(e.x-this.x)*t,this.y+=(e.y-this.y)*t,this}lerpVectors(e,t,i){return this.x=e.x+(t.x-e.x)*i,this.y=e.y+(t.y-e.y)*i,this}equals(e){return e.x===this.x&&e.y===this.y}fromArray(e,t=0){return this.x=e[t],this.y=e[t+1],this}toArray(e=[],t=0){return e[t]=this.x,e[t+1]=this.y,e}fromBufferAttribute(e,t){return this.x=e.getX(t),this.y=e.getY(t),this}rotateAround(e,t){const i=Math.cos(t),r=Math.sin(t),s=this.x-e.x,a=this.y-e.y;return this.x=s*i-a*r+e.x,this.y=s*r+a*i+e.y,this}random(){return this.x=Math.random(),this.y=Math.random(),this}*[Symbol.iterator](){yield this.x,yield this.y}}class di{constructor(e=0,t=0,i=0,r=1){this.isQuaternion=!0,this._x=e,this._y=t,this._z=i,this._w=r}static slerpFlat(e,t,i,r,s,a,o){let l=i[r+0],c=i[r+1],u=i[r+2],d=i[r+3];const h=s[a+0],p=s[a+1],g=s[a+2],_=s[a+3];if(o===0){e[t+0]=l,e[t+1]=c,e[t+2]=u,e[t+3]=d;return}if(o===1){e[t+0]=h,e[t+1]=p,e[t+2]=g,e[t+3]=_;return}if(d!==_||l!==h||c!==p||u!==g){let m=1-o;const f=l*h+c*p+u*g+d*_,E=f>=0?1:-1,y=1-f*f;if(y>Number.EPSILON){const C=Math.sqrt(y),A=Math.atan2(C,f*E);m=Math.sin(m*A)/C,o=Math.sin(o*A)/C}const M=o*E;if(l=l*m+h*M,c=c*m+p*M,u=u*m+g*M,d=d*m+_*M,m===1-o){const C=1/Math.sqrt(l*l+c*c+u*u+d*d);l*=C,c*=C,u*=C,d*=C}}e[t]=l,e[t+1]=c,e[t+2]=u,e[t+3]=d}static multiplyQuaternionsFlat(e,t,i,r,s,a){const o=i[r],l=i[r+1],c=i[r+2],u=i[r+3],d=s[a],h=s[a+1],p=s[a+2],g=s[a+3];return e[t]=o*g+u*d+l*p-c*h,e[t+1]=l*g+u*h+c*d-o*p,e[t+2]=c*g+u*p+o*h-l*d,e[t+3]=u*g-o*d-l*h-c*p,e}get x(){return this._x}set x(e){this._x=e,this._onChangeCallback()}get y(){return this._y}set y(e){this._y=e,this._onChangeCallback()}get z(){return this._z}set z(e){this._z=e,this._onChangeCallback()}get w(){return this._w}set w(e){this._w=e,this._onChangeCallback()}set(e,t,i,r){return this._x=e,this._y=t,this._z=i,this._w=r,this._onChangeCallback(),this}clone(){return new this.constructor(this._x,this._y,this._z,this._w)}copy(e){return this._x=e.x,this._y=e.y,this._z=e.z,this._w=e.w,this._onChangeCallback(),this}setFromEuler(e,t=!0){const i=e._x,r=e._y,s=e._z,a=e._order,o=Math.cos,l=Math.sin,c=o(i/2),u=o(r/2),d=o(s/2),h=l(i/2),p=l(r/2),g=l(s/2);switch(a){case"XYZ":this._x=h*u*d+c*p*g,this._y=c*p*d-h*u*g,this._z=c*u*g+h*p*d,this._w=c*u*d-h*p*g;break;case"YXZ":this._x=h*u*d+c*p*g,this._y=c*p*d-h*u*g,this._z=c*u*g-h*p*d,this._w=c*u*d+h*p*g;break;case"ZXY":this._x=h*u*d-c*p*g,this._y=c*p*d+h*u*g,this._z=c*u*g+h*p*d,this._w=c*u*d-h*p*g;break;case"ZYX":this._x=h*u*d-c*p*g,this._y=c*p*d+h*u*g,this._z=c*u*g-h*p*d,this._w=c*u*d+h*p*g;break;case"YZX":this._x=h*u*d+c*p*g,this._y=c*p*d+h*u*g,this._z=c*u*g-h*p*d,this._w=c*u*d-h*p*g;break;case"XZY":this._x=h*u*d-c*p*g,this._y=c*p*d-h*u*g,this._z=c*u*g+h*p*d,this._w=c*u*d+h*p*g;break;default:console.warn("THREE.Quaternion: .setFromEuler() encountered an unknown order: "+a)}return t===!0&&this._onChangeCallback(),this}setFromAxisAngle(e,t){const i=t/2,r=Math.sin(i);return this._x=e.x*r,this._y=e.y*r,this._z=e.z*r,this._w=Math.cos(i),this._onChangeCallback(),this}setFromRotationMatrix(e){const t=e.elements,i=t[0],r=t[4],s=t[8],a=t[1],o=t[5],l=t[9],c=t[2],u=t[6],d=t[10],h=i+o+d;if(h>0){const p=.5/Math.sqrt(h+1);this._w=.25/p,this._x=(u-l)*p,this._y=(s-c)*p,this._z=(a-r)*p}else if(i>o&&i>d){const p=2*Math.sqrt(1+i-o-d);this._w=(u-l)/p,this._x=.25*p,this._y=(r+a)/p,this._z=(s+c)/p}else if(o>d){const p=2*Math.sqrt(1+o-i-d);this._w=(s-c)/p,this._x=(r+a)/p,this._y=.25*p,this._z=(l+u)/p}else{const p=2*Math.sqrt(1+d-i-o);this._w=(a-r)/p,this._x=(s+c)/p,this._y=(l+u)/p,this._z=.25*p}return this._onChangeCallback(),this}setFromUnitVectors(e,t){let i=e.dot(t)+1;return i<1e-8?(i=0,Math.abs(e.x)>Math.abs(e.z)?(this._x=-e.y,this._y=e.x,this._z=0,this._w=i):(this._x=0,this._y=-e.z,this._z=e.y,this._w=i)):(this._x=e.y*t.z-e.z*t.y,this._y=e.z*t.x-e.x*t.z,this._z=e.x*t.y-e.y*t.x,this._w=i),this.normalize()}angleTo(e){return 2*Math.acos(Math.abs(Be(this.dot(e),-1,1)))}rotateTowards(e,t){const i=this.angleTo(e);if(i===0)return this;const r=Math.min(1,t/i);return this.slerp(e,r),this}identity(){return this.set(0,0,0,1)}invert(){return this.conjugate()}conjugate(){return this._x*=-1,this._y*=-1,this._z*=-1,this._onChangeCallback(),this}dot(e){return this._x*e._x+this._y*e._y+this._z*e._z+this._w*e._w}lengthSq(){return this._x*this._x+this._y*this._y+this._z*this._z+this._w*this._w}length(){return Math.sqrt(this._x*this._x+this._y*this._y+this._z*this._z+this._w*this._w)}normalize(){let e=this.length();return e===0?(this._x=0,this._y=0,this._z=0,this._w=1):(e=1/e,this._x=this._x*e,this._y=this._y*e,this._z=this._z*e,this._w=this._w*e),this._onChangeCallback(),this}multiply(e){return this.multiplyQuaternions(this,e)}premultiply(e){return this.multiplyQuaternions(e,this)}multiplyQuaternions(e,t){const i=e._x,r=e._y,s=e._z,a=e._w,o=t._x,l=t._y,c=t._z,u=t._w;return this._x=i*u+a*o+r*c-s*l,this._y=r*u+a*l+s*o-i*c,this._z=s*u+a*c+i*l-r*o,this._w=a*u-i*o-r*l-s*c,this._onChangeCallback(),this}slerp(e,t){if(t===0)return this;if(t===1)return this.copy(e);const i=this._x,r=this._y,s=this._z,a=this._w;let o=a*e._w+i*e._x+r*e._y+s*e._z;if(o<0?(this._w=-e._w,this._x=-e._x,this._y=-e._y,this._z=-e._z,o=-o):this.copy(e),o>=1)return this._w=a,this._x=i,this._y=r,this._z=s,this;const l=1-o*o;if(l<=Number.EPSILON){const p=1-t;return this._w=p*a+t*this._w,this._x=p*i+t*this._x,this._y=p*r+t*this._y,this._z=p*s+t*this._z,this.normalize(),this}const c=Math.sqrt(l),u=Math.atan2(c,o),d=Math.sin((1-t)*u)/c,h=Math.sin(t*u)/c;return this._w=a*d+this._w*h,this._x=i*d+this._x*h,this._y=r*d+this._y*h,this._z=s*d+this._z*h,this._onChangeCallback(),this}slerpQuaternions(e,t,i){return this.copy(e).slerp(t,i)}random(){const e=2*Math.PI*Math.random(),t=2*Math.PI*Math.random(),i=Math.random(),r=Math.sqrt(1-i),s=Math.sqrt(i);return this.set(r*Math.sin(e),r*Math.cos(e),s*Math.sin(t),s*Math.cos(t))}equals(e){return e._x===this._x&&e._y===this._y&&e._z===this._z&&e._w===this._w}fromArray(e,t=0){return this._x=e[t],this._y=e[t+1],this._z=e[t+2],this._w=e[t+3],this._onChangeCallback(),this}toArray(e=[],t=0){return e[t]=this._x,e[t+1]=this._y,e[t+2]=this._z,e[t+3]=this._w,e}fromBufferAttribute(e,t){return this._x=e.getX(t),this._y=e.getY(t),this._z=e.getZ(t),this._w=e.getW(t),this._onChangeCallback(),this}toJSON(){return this.toArray()}_onChange(e){return this._onChangeCallback=e,this}_onChangeCallback(){}*[Symbol.iterator](){yield this._x,yield this._y,yield this._z,yield this._w}}class O{constructor(e=0,t=0,i=0){O.prototype.isVector3=!0,this.x=e,this.y=t,this.z=i}set(e,t,i){return i===void 0&&(i=this.z),this.x=e,this.y=t,this.z=i,this}setScalar(e){return this.x=e,this.y=e,this.z=e,this}setX(e){return this.x=e,this}setY(e){return this.y=e,this}setZ(e){return this.z=e,this}setComponent(e,t){switch(e){case 0:this.x=t;break;case 1:this.y=t;break;case 2:this.z=t;break;default:throw new Error("index is out of range: "+e)}return this}getComponent(e){switch(e){case 0:return this.x;case 1:return this.y;case 2:return this.z;default:throw new Error("index is out of range: "+e)}}clone(){return new this.constructor(this.x,this.y,this.z)}copy(e){return this.x=e.x,this.y=e.y,this.z=e.z,this}add(e){return this.x+=e.x,this.y+=e.y,this.z+=e.z,this}addScalar(e){return this.x+=e,this.y+=e,this.z+=e,this}addVectors(e,t){return this.x=e.x+t.x,this.y=e.y+t.y,this.z=e.z+t.z,this}addScaledVector(e,t){return this.x+=e.x*t,this.y+=e.y*t,this.z+=e.z*t,this}sub(e){return this.x-=e.x,this.y-=e.y,this.z-=e.z,this}subScalar(e){return this.x-=e,this.y-=e,this.z-=e,this}subVectors(e,t){return this.x=e.x-t.x,this.y=e.y-t.y,this.z=e.z-t.z,this}multiply(e){return this.x*=e.x,this.y*=e.y,this.z*=e.z,this}multiplyScalar(e){return this.x*=e,this.y*=e,this.z*=e,this}multiplyVectors(e,t){return this.x=e.x*t.x,this.y=e.y*t.y,this.z=e.z*t.z,this}applyEuler(e){return this.applyQuaternion(dd.setFromEuler(e))}applyAxisAngle(e,t){return this.applyQuaternion(dd.setFromAxisAngle(e,t))}applyMatrix3(e){const t=this.x,i=this.y,r=this.z,s=e.elements;return this.x=s[0]*t+s[3]*i+s[6]*r,this.y=s[1]*t+s[4]*i+s[7]*r,this.z=s[2]*t+s[5]*i+s[8]*r,this}applyNormalMatrix(e){return this.applyMatrix3(e).normalize()}applyMatrix4(e){const t=this.x,i=this.y,r=this.z,s=e.elements,a=1/(s[3]*t+s[7]*i+s[11]*r+s[15]);return this.x=(s[0]*t+s[4]*i+s[8]*r+s[12])*a,this.y=(s[1]*t+s[5]*i+s[9]*r+s[13])*a,this.z=(s[2]*t+s[6]*i+s[10]*r+s[14])*a,this}applyQuaternion(e){const t=this.x,i=this.y,r=this.z,s=e.x,a=e.y,o=e.z,l=e.w,c=2*(a*r-o*i),u=2*(o*t-s*r),d=2*(s*i-a*t);return this.x=t+l*c+a*d-o*u,this.y=i+l*u+o*c-s*d,this.z=r+l*d+s*u-a*c,this}project(e){return this.applyMatrix4(e.matrixWorldInverse).applyMatrix4(e.projectionMatrix)}unproject(e){return this.applyMatrix4(e.projectionMatrixInverse).applyMatrix4(e.matrixWorld)}transformDirection(e){const t=this.x,i=this.y,r=this.z,s=e.elements;return this.x=s[0]*t+s[4]*i+s[8]*r,this.y=s[1]*t+s[5]*i+s[9]*r,this.z=s[2]*t+s[6]*i+s[10]*r,this.normalize()}divide(e){return this.x/=e.x,this.y/=e.y,this.z/=e.z,this}divideScalar(e){return this.multiplyScalar(1/e)}min(e){return this.x=Math.min(this.x,e.x),this.y=Math.min(this.y,e.y),this.z=Math.min(this.z,e.z),this}max(e){return this.x=Math.max(this.x,e.x),this.y=Math.max(this.y,e.y),this.z=Math.max(this.z,e.z),this}clamp(e,t){return this.x=Be(this.x,e.x,t.x),this.y=Be(this.y,e.y,t.y),this.z=Be(this.z,e.z,t.z),this}clampScalar(e,t){return this.x=Be(this.x,e,t),this.y=Be(this.y,e,t),this.z=Be(this.z,e,t),this}clampLength(e,t){const i=this.length();return this.divideScalar(i||1).multiplyScalar(Be(i,e,t))}floor(){return this.x=Math.floor(this.x),this.y=Math.floor(this.y),this.z=Math.floor(this.z),this}ceil(){return this.x=Math.ceil(this.x),this.y=Math.ceil(this.y),this.z=Math.ceil(this.z),this}round(){return this.x=Math.round(this.x),this.y=Math.round(this.y),this.z=Math.round(this.z),this}roundToZero(){return this.x=Math.trunc(this.x),this.y=Math.trunc(this.y),this.z=Math.trunc(this.z),this}negate(){return this.x=-this.x,this.y=-this.y,this.z=-this.z,this}dot(e){return this.x*e.x+this.y*e.y+this.z*e.z}lengthSq(){return this.x*this.x+this.y*this.y+this.z*this.z}length(){return Math.sqrt(this.x*this.x+this.y*this.y+this.z*this.z)}manhattanLength(){return Math.abs(this.x)+Math.abs(this.y)+Math.abs(this.z)}normalize(){return this.divideScalar(this.length()||1)}setLength(e){return this.normalize().multiplyScalar(e)}lerp(e,t){return this.x+=(e.x-this.x)*t,this.y+=(e.y-this.y)*t,this.z+=(e.z-this.z)*t,this}lerpVectors(e,t,i){return this.x=e.x+(t.x-e.x)*i,this.y=e.y+(t.y-e.y)*i,this.z=e.z+(t.z-e.z)*i,this}cross(e){return this.crossVectors(this,e)}crossVectors(e,t){const i=e.x,r=e.y,s=e.z,a=t.x,o=t.y,l=t.z;return this.x=r*l-s*o,this.y=s*a-i*l,this.z=i*o-r*a,this}projectOnVector(e){const t=e.lengthSq();if(t===0)return this.set(0,0,0);const i=e.dot(this)/t;return this.copy(e).multiplyScalar(i)}projectOnPlane(e){return Tl.copy(this).projectOnVector(e),this.sub(Tl)}reflect(e){return this.sub(Tl.copy(e).multiplyScalar(2*this.dot(e)))}angleTo(e){const t=Math.sqrt(this.lengthSq()*e.lengthSq());if(t===0)return Math.PI/2;const i=this.dot(e)/t;return Math.acos(Be(i,-1,1))}distanceTo(e){return Math.sqrt(this.distanceToSquared(e))}distanceToSquared(e){const t=this.x-e.x,i=this.y-e.y,r=this.z-e.z;return t*t+i*i+r*r}manhattanDistanceTo(e){return Math.abs(this.x-e.x)+Math.abs(this.y-e.y)+Math.abs(this.z-e.z)}setFromSpherical(e){return this.setFromSphericalCoords(e.radius,e.phi,e.theta)}setFromSphericalCoords(e,t,i){const r=Math.sin(t)*e;return this.x=r*Math.sin(i),this.y=Math.cos(t)*e,this.z=r*Math.cos(i),this}setFromCylindrical(e){return this.setFromCylindricalCoords(e.radius,e.theta,e.y)}setFromCylindricalCoords(e,t,i){return this.x=e*Math.sin(t),this.y=i,this.z=e*Math.cos(t),this}setFromMatrixPosition(e){const t=e.elements;return this.x=t[12],this.y=t[13],this.z=t[14],this}setFromMatrixScale(e){const t=this.setFromMatrixColumn(e,0).length(),i=this.setFromMatrixColumn(e,1).length(),r=this.setFromMatrixColumn(e,2).length();return this.x=t,this.y=i,this.z=r,this}setFromMatrixColumn(e,t){return this.fromArray(e.elements,t*4)}setFromMatrix3Column(e,t){return this.fromArray(e.elements,t*3)}setFromEuler(e){return this.x=e._x,this.y=e._y,this.z=e._z,this}setFromColor(e){return this.x=e.r,this.y=e.g,this.z=e.b,this}equals(e){return e.x===this.x&&e.y===this.y&&e.z===this.z}fromArray(e,t=0){return this.x=e[t],this.y=e[t+1],this.z=e[t+2],this}toArray(e=[],t=0){return e[t]=this.x,e[t+1]=this.y,e[t+2]=this.z,e}fromBufferAttribute(e,t){return this.x=e.getX(t),this.y=e.getY(t),this.z=e.getZ(t),this}random(){return this.x=Math.random(),this.y=Math.random(),this.z=Math.random(),this}randomDirection(){const e=Math.random()*Math.PI*2,t=Math.random()*2-1,i=Math.sqrt(1-t*t);return this.x=i*Math.cos(e),this.y=t,this.z=i*Math.sin(e),this}*[Symbol.iterator](){yield this.x,yield this.y,yield this.z}}const Tl=new O,dd=new di;class Ue{constructor(e,t,i,r,s,a,o,l,c){Ue.prototype.isMatrix3=!0,this.elements=[1,0,0,0,1,0,0,0,1],e!==void 0&&this.set(e,t,i,r,s,a,o,l,c)}set(e,t,i,r,s,a,o,l,c){const u=this.elements;return u[0]=e,u[1]=r,u[2]=o,u[3]=t,u[4]=s,u[5]=l,u[6]=i,u[7]=a,u[8]=c,this}identity(){return this.set(1,0,0,0,1,0,0,0,1),this}copy(e){const t=this.elements,i=e.elements;return t[0]=i[0],t[1]=i[1],t[2]=i[2],t[3]=i[3],t[4]=i[4],t[5]=i[5],t[6]=i[6],t[7]=i[7],t[8]=i[8],this}extractBasis(e,t,i){return e.setFromMatrix3Column(this,0),t.setFromMatrix3Column(this,1),i.setFromMatrix3Column(this,2),this}setFromMatrix4(e){const t=e.elements;return this.set(t[0],t[4],t[8],t[1],t[5],t[9],t[2],t[6],t[10]),this}multiply(e){return this.multiplyMatrices(this,e)}premultiply(e){return this.multiplyMatrices(e,this)}multiplyMatrices(e,t){const i=e.elements,r=t.elements,s=this.elements,a=i[0],o=i[3],l=i[6],c=i[1],u=i[4],d=i[7],h=i[2],p=i[5],g=i[8],_=r[0],m=r[3],f=r[6],E=r[1],y=r[4],M=r[7],C=r[2],A=r[5],D=r[8];return s[0]=a*_+o*E+l*C,s[3]=a*m+o*y+l*A,s[6]=a*f+o*M+l*D,s[1]=c*_+u*E+d*C,s[4]=c*m+u*y+d*A,s[7]=c*f+u*M+d*D,s[2]=h*_+p*E+g*C,s[5]=h*m+p*y+g*A,s[8]=h*f+p*M+g*D,this}multiplyScalar(e){const t=this.elements;return t[0]*=e,t[3]*=e,t[6]*=e,t[1]*=e,t[4]*=e,t[7]*=e,t[2]*=e,t[5]*=e,t[8]*=e,this}determinant(){const e=this.elements,t=e[0],i=e[1],r=e[2],s=e[3],a=e[4],o=e[5],l=e[6],c=e[7],u=e[8];return t*a*u-t*o*c-i*s*u+i*o*l+r*s*c-r*a*l}invert(){const e=this.elements,t=e[0],i=e[1],r=e[2],s=e[3],a=e[4],o=e[5],l=e[6],c=e[7],u=e[8],d=u*a-o*c,h=o*l-u*s,p=c*s-a*l,g=t*d+i*h+r*p;if(g===0)return this.set(0,0,0,0,0,0,0,0,0);const _=1/g;return e[0]=d*_,e[1]=(r*c-u*i)*_,e[2]=(o*i-r*a)*_,e[3]=h*_,e[4]=(u*t-r*l)*_,e[5]=(r*s-o*t)*_,e[6]=p*_,e[7]=(i*l-c*t)*_,e[8]=(a*t-i*s)*_,this}transpose(){let e;const t=this.elements;return e=t[1],t[1]=t[3],t[3]=e,e=t[2],t[2]=t[6],t[6]=e,e=t[5],t[5]=t[7],t[7]=e,this}getNormalMatrix(e){return this.setFromMatrix4(e).invert().transpose()}transposeIntoArray(e){const t=this.elements;return e[0]=t[0],e[1]=t[3],e[2]=t[6],e[3]=t[1],e[4]=t[4],e[5]=t[7],e[6]=t[2],e[7]=t[5],e[8]=t[8],this}setUvTransform(e,t,i,r,s,a,o){const l=Math.cos(s),c=Math.sin(s);return this.set(i*l,i*c,-i*(l*a+c*o)+a+e,-r*c,r*l,-r*(-c*a+l*o)+o+t,0,0,1),this}scale(e,t){return this.premultiply(Al.makeScale(e,t)),this}rotate(e){return this.premultiply(Al.makeRotation(-e)),this}translate(e,t){return this.premultiply(Al.makeTranslation(e,t)),this}makeTranslation(e,t){return e.isVector2?this.set(1,0,e.x,0,1,e.y,0,0,1):this.set(1,0,e,0,1,t,0,0,1),this}makeRotation(e){const t=Math.cos(e),i=Math.sin(e);return this.set(t,-i,0,i,t,0,0,0,1),this}makeScale(e,t){return this.set(e,0,0,0,t,0,0,0,1),this}equals(e){const t=this.elements,i=e.elements;for(let r=0;r<9;r++)if(t[r]!==i[r])return!1;return!0}fromArray(e,t=0){for(let i=0;i<9;i++)this.elements[i]=e[i+t];return this}toArray(e=[],t=0){const i=this.elements;return e[t]=i[0],e[t+1]=i[1],e[t+2]=i[2],e[t+3]=i[3],e[t+4]=i[4],e[t+5]=i[5],e[t+6]=i[6],e[t+7]=i[7],e[t+8]=i[8],e}clone(){return new this.constructor().fromArray(this.elements)}}const Al=new Ue;function fd(n){for(let e=n.length-1;e>=0;--e)if(n[e]>=65535)return!0;return!1}function Ws(n){return document.createElementNS("http://www.w3.org/1999/xhtml",n)}function S_(){const n=Ws("canvas");return n.style.display="block",n}const pd={};function Fr(n){n in pd||(pd[n]=!0,console.warn(n))}function b_(n,e,t){return new Promise(function(i,r){function s(){switch(n.clientWaitSync(e,n.SYNC_FLUSH_COMMANDS_BIT,0)){case n.WAIT_FAILED:r();break;case n.TIMEOUT_EXPIRED:setTimeout(s,t);break;default:i()}}setTimeout(s,t)})}const md=new Ue().set(.4123908,.3575843,.1804808,.212639,.7151687,.0721923,.0193308,.1191948,.9505322),gd=new Ue().set(3.2409699,-1.5373832,-.4986108,-.9692436,1.8759675,.0415551,.0556301,-.203977,1.0569715);function M_(){const n={enabled:!0,workingColorSpace:hi,spaces:{},convert:function(r,s,a){return this.enabled===!1||s===a||!s||!a||(this.spaces[s].transfer===je&&(r.r=yn(r.r),r.g=yn(r.g),r.b=yn(r.b)),this.spaces[s].primaries!==this.spaces[a].primaries&&(r.applyMatrix3(this.spaces[s].toXYZ),r.applyMatrix3(this.spaces[a].fromXYZ)),this.spaces[a].transfer===je&&(r.r=qi(r.r),r.g=qi(r.g),r.b=qi(r.b))),r},workingToColorSpace:function(r,s){return this.convert(r,this.workingColorSpace,s)},colorSpaceToWorking:function(r,s){return this.convert(r,s,this.workingColorSpace)},getPrimaries:function(r){return this.spaces[r].primaries},getTransfer:function(r){return r===Hn?Hs:this.spaces[r].transfer},getToneMappingMode:function(r){return this.spaces[r].outputColorSpaceConfig.toneMappingMode||"standard"},getLuminanceCoefficients:function(r,s=this.workingColorSpace){return r.fromArray(this.spaces[s].luminanceCoefficients)},define:function(r){Object.assign(this.spaces,r)},_getMatrix:function(r,s,a){return r.copy(this.spaces[s].toXYZ).multiply(this.spaces[a].fromXYZ)},_getDrawingBufferColorSpace:function(r){return this.spaces[r].outputColorSpaceConfig.drawingBufferColorSpace},_getUnpackColorSpace:function(r=this.workingColorSpace){return this.spaces[r].workingColorSpaceConfig.unpackColorSpace},fromWorkingColorSpace:function(r,s){return Fr("THREE.ColorManagement: .fromWorkingColorSpace() has been renamed to .workingToColorSpace()."),n.workingToColorSpace(r,s)},toWorkingColorSpace:function(r,s){return Fr("THREE.ColorManagement: .toWorkingColorSpace() has been renamed to .colorSpaceToWorking()."),n.colorSpaceToWorking(r,s)}},e=[.64,.33,.3,.6,.15,.06],t=[.2126,.7152,.0722],i=[.3127,.329];return n.define({[hi]:{primaries:e,whitePoint:i,transfer:Hs,toXYZ:md,fromXYZ:gd,luminanceCoefficients:t,workingColorSpaceConfig:{unpackColorSpace:qt},outputColorSpaceConfig:{drawingBufferColorSpace:qt}},[qt]:{primaries:e,whitePoint:i,transfer:je,toXYZ:md,fromXYZ:gd,luminanceCoefficients:t,outputColorSpaceConfig:{drawingBufferColorSpace:qt}}}),n}const Ge=M_();function yn(n){return n<.04045?n*.0773993808:Math.pow(n*.9478672986+.0521327014,2.4)}function qi(n){return n<.0031308?n*12.92:1.055*Math.pow(n,.41666)-.055}let Yi;class w_{static getDataURL(e,t="image/png"){if(/^data:/i.test(e.src)||typeof HTMLCanvasElement>"u")return e.src;let i;if(e instanceof HTMLCanvasElement)i=e;else{Yi===void 0&&(Yi=Ws("canvas")),Yi.width=e.width,Yi.height=e.height;const r=Yi.getContext("2d");e instanceof ImageData?r.putImageData(e,0,0):r.drawImage(e,0,0,e.width,e.height),i=Yi}return i.toDataURL(t)}static sRGBToLinear(e){if(typeof HTMLImageElement<"u"&&e instanceof HTMLImageElement||typeof HTMLCanvasElement<"u"&&e instanceof HTMLCanvasElement||typeof ImageBitmap<"u"&&e instanceof ImageBitmap){const t=Ws("canvas");t.width=e.width,t.height=e.height;const i=t.getContext("2d");i.drawImage(e,0,0,e.width,e.height);const r=i.getImageData(0,0,e.width,e.height),s=r.data;for(let a=0;a<s.length;a++)s[a]=yn(s[a]/255)*255;return i.putImageData(r,0,0),t}else if(e.data){const t=e.data.slice(0);for(let i=0;i<t.length;i++)t instanceof Uint8Array||t instanceof Uint8ClampedArray?t[i]=Math.floor(yn(t[i]/255)*255):t[i]=yn(t[i]);return{data:t,width:e.width,height:e.height}}else return console.warn("THREE.ImageUtils.sRGBToLinear(): Unsupported image type. No color space conversion applied."),e}}let y_=0;class Rl{constructor(e=null){this.isSource=!0,Object.defineProperty(this,"id",{value:y_++}),this.uuid=Ir(),this.data=e,this.dataReady=!0,this.version=0}getSize(e){const t=this.data;return typeof HTMLVideoElement<"u"&&t instanceof HTMLVideoElement?e.set(t.videoWidth,t.videoHeight,0):t instanceof VideoFrame?e.set(t.displayHeight,t.displayWidth,0):t!==null?e.set(t.width,t.height,t.depth||0):e.set(0,0,0),e}set needsUpdate(e){e===!0&&this.version++}toJSON(e){const t=e===void 0||typeof e=="string";if(!t&&e.images[this.uuid]!==void 0)return e.images[this.uuid];const i={uuid:this.uuid,url:""},r=this.data;if(r!==null){let s;if(Array.isArray(r)){s=[];for(let a=0,o=r.length;a<o;a++)r[a].isDataTexture?s.push(Cl(r[a].image)):s.push(Cl(r[a]))}else s=Cl(r);i.url=s}return t||(e.images[this.uuid]=i),i}}function Cl(n){return typeof HTMLImageElement<"u"&&n instanceof HTMLImageElement||typeof HTMLCanvasElement<"u"&&n instanceof HTMLCanvasElement||typeof ImageBitmap<"u"&&n instanceof ImageBitmap?w_.getDataURL(n):n.data?{data:Array.from(n.data),width:n.width,height:n.height,type:n.data.constructor.name}:(console.warn("THREE.Texture: Unable to serialize Texture."),{})}let E_=0;const Pl=new O;class Pt extends ui{constructor(e=Pt.DEFAULT_IMAGE,t=Pt.DEFAULT_MAPPING,i=oi,r=oi,s=nn,a=li,o=rn,l=Mn,c=Pt.DEFAULT_ANISOTROPY,u=Hn){super(),this.isTexture=!0,Object.defineProperty(this,"id",{value:E_++}),this.uuid=Ir(),this.name="",this.source=new Rl(e),this.mipmaps=[],this.mapping=t,this.channel=0,this.wrapS=i,this.wrapT=r,this.magFilter=s,this.minFilter=a,this.anisotropy=c,this.format=o,this.internalFormat=null,this.type=l,this.offset=new ke(0,0),this.repeat=new ke(1,1),this.center=new ke(0,0),this.rotation=0,this.matrixAutoUpdate=!0,this.matrix=new Ue,this.generateMipmaps=!0,this.premultiplyAlpha=!1,this.flipY=!0,this.unpackAlignment=4,this.colorSpace=u,this.userData={},this.updateRanges=[],this.version=0,this.onUpdate=null,this.renderTarget=null,this.isRenderTargetTexture=!1,this.isArrayTexture=!!(e&&e.depth&&e.depth>1),this.pmremVersion=0}get width(){return this.source.getSize(Pl).x}get height(){return this.source.getSize(Pl).y}get depth(){return this.source.getSize(Pl).z}get image(){return this.source.data}set image(e=null){this.source.data=e}updateMatrix(){this.matrix.setUvTransform(this.offset.x,this.offset.y,this.repeat.x,this.repeat.y,this.rotation,this.center.x,this.center.y)}addUpdateRange(e,t){this.updateRanges.push({start:e,count:t})}clearUpdateRanges(){this.updateRanges.length=0}clone(){return new this.constructor().copy(this)}copy(e){return this.name=e.name,this.source=e.source,this.mipmaps=e.mipmaps.slice(0),this.mapping=e.mapping,this.channel=e.channel,this.wrapS=e.wrapS,this.wrapT=e.wrapT,this.magFilter=e.magFilter,this.minFilter=e.minFilter,this.anisotropy=e.anisotropy,this.format=e.format,this.internalFormat=e.internalFormat,this.type=e.type,this.offset.copy(e.offset),this.repeat.copy(e.repeat),this.center.copy(e.center),this.rotation=e.rotation,this.matrixAutoUpdate=e.matrixAutoUpdate,this.matrix.copy(e.matrix),this.generateMipmaps=e.generateMipmaps,this.premultiplyAlpha=e.premultiplyAlpha,this.flipY=e.flipY,this.unpackAlignment=e.unpackAlignment,this.colorSpace=e.colorSpace,this.renderTarget=e.renderTarget,this.isRenderTargetTexture=e.isRenderTargetTexture,this.isArrayTexture=e.isArrayTexture,this.userData=JSON.parse(JSON.stringify(e.userData)),this.needsUpdate=!0,this}setValues(e){for(const t in e){const i=e[t];if(i===void 0){console.warn(`THREE.Texture.setValues(): parameter '${t}' has value of undefined.`);continue}const r=this[t];if(r===void 0){console.warn(`THREE.Texture.setValues(): property '${t}' does not exist.`);continue}r&&i&&r.isVector2&&i.isVector2||r&&i&&r.isVector3&&i.isVector3||r&&i&&r.isMatrix3&&i.isMatrix3?r.copy(i):this[t]=i}}toJSON(e){const t=e===void 0||typeof e=="string";if(!t&&e.textures[this.uuid]!==void 0)return e.textures[this.uuid];const i={metadata:{version:4.7,type:"Texture",generator:"Texture.toJSON"},uuid:this.uuid,name:this.name,image:this.source.toJSON(e).uuid,mapping:this.mapping,channel:this.channel,repeat:[this.repeat.x,this.repeat.y],offset:[this.offset.x,this.offset.y],center:[this.center.x,this.center.y],rotation:this.rotation,wrap:[this.wrapS,this.wrapT],format:this.format,internalFormat:this.internalFormat,type:this.type,colorSpace:this.colorSpace,minFilter:this.minFilter,magFilter:this.magFilter,anisotropy:this.anisotropy,flipY:this.flipY,generateMipmaps:this.generateMipmaps,premultiplyAlpha:this.premultiplyAlpha,unpackAlignment:this.unpackAlignment};return Object.keys(this.userData).length>0&&(i.userData=this.userData),t||(e.textures[this.uuid]=i),i}dispose(){this.dispatchEvent({type:"dispose"})}transformUv(e){if(this.mapping!==Qu)return e;if(e.applyMatrix3(this.matrix),e.x<0||e.x>1)switch(this.wrapS){case Ho:e.x=e.x-Math.floor(e.x);break;case oi:e.x=e.x<0?0:1;break;case Vo:Math.abs(Math.floor(e.x)%2)===1?e.x=Math.ceil(e.x)-e.x:e.x=e.x-Math.floor(e.x);break}if(e.y<0||e.y>1)switch(this.wrapT){case Ho:e.y=e.y-Math.floor(e.y);break;case oi:e.y=e.y<0?0:1;break;case Vo:Math.abs(Math.floor(e.y)%2)===1?e.y=Math.ceil(e.y)-e.y:e.y=e.y-Math.floor(e.y);break}return this.flipY&&(e.y=1-e.y),e}set needsUpdate(e){e===!0&&(this.version++,this.source.needsUpdate=!0)}set needsPMREMUpdate(e){e===!0&&this.pmremVersion++}}Pt.DEFAULT_IMAGE=null,Pt.DEFAULT_MAPPING=Qu,Pt.DEFAULT_ANISOTROPY=1;class ut{constructor(e=0,t=0,i=0,r=1){ut.prototype.isVector4=!0,this.x=e,this.y=t,this.z=i,this.w=r}get width(){return this.z}set width(e){this.z=e}get height(){return this.w}set height(e){this.w=e}set(e,t,i,r){return this.x=e,this.y=t,this.z=i,this.w=r,this}setScalar(e){return this.x=e,this.y=e,this.z=e,this.w=e,this}setX(e){return this.x=e,this}setY(e){return this.y=e,this}setZ(e){return this.z=e,this}setW(e){return this.w=e,this}setComponent(e,t){switch(e){case 0:this.x=t;break;case 1:this.y=t;break;case 2:this.z=t;break;case 3:this.w=t;break;default:throw new Error("index is out of range: "+e)}return this}getComponent(e){switch(e){case 0:return this.x;case 1:return this.y;case 2:return this.z;case 3:return this.w;default:throw new Error("index is out of range: "+e)}}clone(){return new this.constructor(this.x,this.y,this.z,this.w)}copy(e){return this.x=e.x,this.y=e.y,this.z=e.z,this.w=e.w!==void 0?e.w:1,this}add(e){return this.x+=e.x,this.y+=e.y,this.z+=e.z,this.w+=e.w,this}addScalar(e){return this.x+=e,this.y+=e,this.z+=e,this.w+=e,this}addVectors(e,t){return this.x=e.x+t.x,this.y=e.y+t.y,this.z=e.z+t.z,this.w=e.w+t.w,this}addScaledVector(e,t){return this.x+=e.x*t,this.y+=e.y*t,this.z+=e.z*t,this.w+=e.w*t,this}sub(e){return this.x-=e.x,this.y-=e.y,this.z-=e.z,this.w-=e.w,this}subScalar(e){return this.x-=e,this.y-=e,this.z-=e,this.w-=e,this}subVectors(e,t){return this.x=e.x-t.x,this.y=e.y-t.y,this.z=e.z-t.z,this.w=e.w-t.w,this}multiply(e){return this.x*=e.x,this.y*=e.y,this.z*=e.z,this.w*=e.w,this}multiplyScalar(e){return this.x*=e,this.y*=e,this.z*=e,this.w*=e,this}applyMatrix4(e){const t=this.x,i=this.y,r=this.z,s=this.w,a=e.elements;return this.x=a[0]*t+a[4]*i+a[8]*r+a[12]*s,this.y=a[1]*t+a[5]*i+a[9]*r+a[13]*s,this.z=a[2]*t+a[6]*i+a[10]*r+a[14]*s,this.w=a[3]*t+a[7]*i+a[11]*r+a[15]*s,this}divide(e){return this.x/=e.x,this.y/=e.y,this.z/=e.z,this.w/=e.w,this}divideScalar(e){return this.multiplyScalar(1/e)}setAxisAngleFromQuaternion(e){this.w=2*Math.acos(e.w);const t=Math.sqrt(1-e.w*e.w);return t<1e-4?(this.x=1,this.y=0,this.z=0):(this.x=e.x/t,this.y=e.y/t,this.z=e.z/t),this}setAxisAngleFromRotationMatrix(e){let t,i,r,s;const l=e.elements,c=l[0],u=l[4],d=l[8],h=l[1],p=l[5],g=l[9],_=l[2],m=l[6],f=l[10];if(Math.abs(u-h)<.01&&Math.abs(d-_)<.01&&Math.abs(g-m)<.01){if(Math.abs(u+h)<.1&&Math.abs(d+_)<.1&&Math.abs(g+m)<.1&&Math.abs(c+p+f-3)<.1)return this.set(1,0,0,0),this;t=Math.PI;const y=(c+1)/2,M=(p+1)/2,C=(f+1)/2,A=(u+h)/4,D=(d+_)/4,F=(g+m)/4;return y>M&&y>C?y<.01?(i=0,r=.707106781,s=.707106781):(i=Math.sqrt(y),r=A/i,s=D/i):M>C?M<.01?(i=.707106781,r=0,s=.707106781):(r=Math.sqrt(M),i=A/r,s=F/r):C<.01?(i=.707106781,r=.707106781,s=0):(s=Math.sqrt(C),i=D/s,r=F/s),this.set(i,r,s,t),this}let E=Math.sqrt((m-g)*(m-g)+(d-_)*(d-_)+(h-u)*(h-u));return Math.abs(E)<.001&&(E=1),this.x=(m-g)/E,this.y=(d-_)/E,this.z=(h-u)/E,this.w=Math.acos((c+p+f-1)/2),this}setFromMatrixPosition(e){const t=e.elements;return this.x=t[12],this.y=t[13],this.z=t[14],this.w=t[15],this}min(e){return this.x=Math.min(this.x,e.x),this.y=Math.min(this.y,e.y),this.z=Math.min(this.z,e.z),this.w=Math.min(this.w,e.w),this}max(e){return this.x=Math.max(this.x,e.x),this.y=Math.max(this.y,e.y),this.z=Math.max(this.z,e.z),this.w=Math.max(this.w,e.w),this}clamp(e,t){return this.x=Be(this.x,e.x,t.x),this.y=Be(this.y,e.y,t.y),this.z=Be(this.z,e.z,t.z),this.w=Be(this.w,e.w,t.w),this}clampScalar(e,t){return this.x=Be(this.x,e,t),this.y=Be(this.y,e,t),this.z=Be(this.z,e,t),this.w=Be(this.w,e,t),this}clampLength(e,t){const i=this.length();return this.divideScalar(i||1).multiplyScalar(Be(i,e,t))}floor(){return this.x=Math.floor(this.x),this.y=Math.floor(this.y),this.z=Math.floor(this.z),this.w=Math.floor(this.w),this}ceil(){return this.x=Math.ceil(this.x),this.y=Math.ceil(this.y),this.z=Math.ceil(this.z),this.w=Math.ceil(this.w),this}round(){return this.x=Math.round(this.x),this.y=Math.round(this.y),this.z=Math.round(this.z),this.w=Math.round(this.w),this}roundToZero(){return this.x=Math.trunc(this.x),this.y=Math.trunc(this.y),this.z=Math.trunc(this.z),this.w=Math.trunc(this.w),this}negate(){return this.x=-this.x,this.y=-this.y,this.z=-this.z,this.w=-this.w,this}dot(e){return this.x*e.x+this.y*e.y+this.z*e.z+this.w*e.w}lengthSq(){return this.x*this.x+this.y*this.y+this.z*this.z+this.w*this.w}length(){return Math.sqrt(this.x*this.x+this.y*this.y+this.z*this.z+this.w*this.w)}manhattanLength(){return Math.abs(this.x)+Math.abs(this.y)+Math.abs(this.z)+Math.abs(this.w)}normalize(){return this.divideScalar(this.length()||1)}setLength(e){return this.normalize().multiplyScalar(e)}lerp(e,t){return this.x+=(e.x-this.x)*t,this.y+=(e.y-this.y)*t,this.z+=(e.z-this.z)*t,this.w+=(e.w-this.w)*t,this}lerpVectors(e,t,i){return this.x=e.x+(t.x-e.x)*i,this.y=e.y+(t.y-e.y)*i,this.z=e.z+(t.z-e.z)*i,this.w=e.w+(t.w-e.w)*i,this}equals(e){return e.x===this.x&&e.y===this.y&&e.z===this.z&&e.w===this.w}fromArray(e,t=0){return this.x=e[t],this.y=e[t+1],this.z=e[t+2],this.w=e[t+3],this}toArray(e=[],t=0){return e[t]=this.x,e[t+1]=this.y,e[t+2]=this.z,e[t+3]=this.w,e}fromBufferAttribute(e,t){return this.x=e.getX(t),this.y=e.getY(t),this.z=e.getZ(t),this.w=e.getW(t),this}random(){return this.x=Math.random(),this.y=Math.random(),this.z=Math.random(),this.w=Math.random(),this}*[Symbol.iterator](){yield this.x,yield this.y,yield this.z,yield this.w}}class T_ extends ui{constructor(e=1,t=1,i={}){super(),i=Object.assign({generateMipmaps:!1,internalFormat:null,minFilter:nn,depthBuffer:!0,stencilBuffer:!1,resolveDepthBuffer:!0,resolveStencilBuffer:!0,depthTexture:null,samples:0,count:1,depth:1,multiview:!1},i),this.isRenderTarget=!0,this.width=e,this.height=t,this.depth=i.depth,this.scissor=new ut(0,0,e,t),this.scissorTest=!1,this.viewport=new ut(0,0,e,t);const r={width:e,height:t,depth:i.depth},s=new Pt(r);this.textures=[];const a=i.count;for(let o=0;o<a;o++)this.textures[o]=s.clone(),this.textures[o].isRenderTargetTexture=!0,this.textures[o].renderTarget=this;this._setTextureOptions(i),this.depthBuffer=i.depthBuffer,this.stencilBuffer=i.stencilBuffer,this.resolveDepthBuffer=i.resolveDepthBuffer,this.resolveStencilBuffer=i.resolveStencilBuffer,this._depthTexture=null,this.depthTexture=i.depthTexture,this.samples=i.samples,this.multiview=i.multiview}_setTextureOptions(e={}){const t={minFilter:nn,generateMipmaps:!1,flipY:!1,internalFormat:null};e.mapping!==void 0&&(t.mapping=e.mapping),e.wrapS!==void 0&&(t.wrapS=e.wrapS),e.wrapT!==void 0&&(t.wrapT=e.wrapT),e.wrapR!==void 0&&(t.wrapR=e.wrapR),e.magFilter!==void 0&&(t.magFilter=e.magFilter),e.minFilter!==void 0&&(t.minFilter=e.minFilter),e.format!==void 0&&(t.format=e.format),e.type!==void 0&&(t.type=e.type),e.anisotropy!==void 0&&(t.anisotropy=e.anisotropy),e.colorSpace!==void 0&&(t.colorSpace=e.colorSpace),e.flipY!==void 0&&(t.flipY=e.flipY),e.generateMipmaps!==void 0&&(t.generateMipmaps=e.generateMipmaps),e.internalFormat!==void 0&&(t.internalFormat=e.internalFormat);for(let i=0;i<this.textures.length;i++)this.textures[i].setValues(t)}get texture(){return this.textures[0]}set texture(e){this.textures[0]=e}set depthTexture(e){this._depthTexture!==null&&(this._depthTexture.renderTarget=null),e!==null&&(e.renderTarget=this),this._depthTexture=e}get depthTexture(){return this._depthTexture}setSize(e,t,i=1){if(this.width!==e||this.height!==t||this.depth!==i){this.width=e,this.height=t,this.depth=i;for(let r=0,s=this.textures.length;r<s;r++)this.textures[r].image.width=e,this.textures[r].image.height=t,this.textures[r].image.depth=i,this.textures[r].isArrayTexture=this.textures[r].image.depth>1;this.dispose()}this.viewport.set(0,0,e,t),this.scissor.set(0,0,e,t)}clone(){return new this.constructor().copy(this)}copy(e){this.width=e.width,this.height=e.height,this.depth=e.depth,this.scissor.copy(e.scissor),this.scissorTest=e.scissorTest,this.viewport.copy(e.viewport),this.textures.length=0;for(let t=0,i=e.textures.length;t<i;t++){this.textures[t]=e.textures[t].clone(),this.textures[t].isRenderTargetTexture=!0,this.textures[t].renderTarget=this;const r=Object.assign({},e.textures[t].image);this.textures[t].source=new Rl(r)}return this.depthBuffer=e.depthBuffer,this.stencilBuffer=e.stencilBuffer,this.resolveDepthBuffer=e.resolveDepthBuffer,this.resolveStencilBuffer=e.resolveStencilBuffer,e.depthTexture!==null&&(this.depthTexture=e.depthTexture.clone()),this.samples=e.samples,this}dispose(){this.dispatchEvent({type:"dispose"})}}class fi extends T_{constructor(e=1,t=1,i={}){super(e,t,i),this.isWebGLRenderTarget=!0}}class _d extends Pt{constructor(e=null,t=1,i=1,r=1){super(null),this.isDataArrayTexture=!0,this.image={data:e,width:t,height:i,depth:r},this.magFilter=tn,this.minFilter=tn,this.wrapR=oi,this.generateMipmaps=!1,this.flipY=!1,this.unpackAlignment=1,this.layerUpdates=new Set}addLayerUpdate(e){this.layerUpdates.add(e)}clearLayerUpdates(){this.layerUpdates.clear()}}class A_ extends Pt{constructor(e=null,t=1,i=1,r=1){super(null),this.isData3DTexture=!0,this.image={data:e,width:t,height:i,depth:r},this.magFilter=tn,this.minFilter=tn,this.wrapR=oi,this.generateMipmaps=!1,this.flipY=!1,this.unpackAlignment=1}}class Or{constructor(e=new O(1/0,1/0,1/0),t=new O(-1/0,-1/0,-1/0)){this.isBox3=!0,this.min=e,this.max=t}set(e,t){return this.min.copy(e),this.max.copy(t),this}setFromArray(e){this.makeEmpty();for(let t=0,i=e.length;t<i;t+=3)this.expandByPoint(sn.fromArray(e,t));return this}setFromBufferAttribute(e){this.makeEmpty();for(let t=0,i=e.count;t<i;t++)this.expandByPoint(sn.fromBufferAttribute(e,t));return this}setFromPoints(e){this.makeEmpty();for(let t=0,i=e.length;t<i;t++)this.expandByPoint(e[t]);return this}setFromCenterAndSize(e,t){const i=sn.copy(t).multiplyScalar(.5);return this.min.copy(e).sub(i),this.max.copy(e).add(i),this}setFromObject(e,t=!1){return this.makeEmpty(),this.expandByObject(e,t)}clone(){return new this.constructor().copy(this)}copy(e){return this.min.copy(e.min),this.max.copy(e.max),this}makeEmpty(){return this.min.x=this.min.y=this.min.z=1/0,this.max.x=this.max.y=this.max.z=-1/0,this}isEmpty(){return this.max.x<this.min.x||this.max.y<this.min.y||this.max.z<this.min.z}getCenter(e){return this.isEmpty()?e.set(0,0,0):e.addVectors(this.min,this.max).multiplyScalar(.5)}getSize(e){return this.isEmpty()?e.set(0,0,0):e.subVectors(this.max,this.min)}expandByPoint(e){return this.min.min(e),this.max.max(e),this}expandByVector(e){return this.min.sub(e),this.max.add(e),this}expandByScalar(e){return this.min.addScalar(-e),this.max.addScalar(e),this}expandByObject(e,t=!1){e.updateWorldMatrix(!1,!1);const i=e.geometry;if(i!==void 0){const s=i.getAttribute("position");if(t===!0&&s!==void 0&&e.isInstancedMesh!==!0)for(let a=0,o=s.count;a<o;a++)e.isMesh===!0?e.getVertexPosition(a,sn):sn.fromBufferAttribute(s,a),sn.applyMatrix4(e.matrixWorld),this.expandByPoint(sn);else e.boundingBox!==void 0?(e.boundingBox===null&&e.computeBoundingBox(),$s.copy(e.boundingBox)):(i.boundingBox===null&&i.computeBoundingBox(),$s.copy(i.boundingBox)),$s.applyMatrix4(e.matrixWorld),this.union($s)}const r=e.children;for(let s=0,a=r.length;s<a;s++)this.expandByObject(r[s],t);return this}containsPoint(e){return e.x>=this.min.x&&e.x<=this.max.x&&e.y>=this.min.y&&e.y<=this.max.y&&e.z>=this.min.z&&e.z<=this.max.z}containsBox(e){return this.min.x<=e.min.x&&e.max.x<=this.max.x&&this.min.y<=e.min.y&&e.max.y<=this.max.y&&this.min.z<=e.min.z&&e.max.z<=this.max.z}getParameter(e,t){return t.set((e.x-this.min.x)/(this.max.x-this.min.x),(e.y-this.min.y)/(this.max.y-this.min.y),(e.z-this.min.z)/(this.max.z-this.min.z))}intersectsBox(e){return e.max.x>=this.min.x&&e.min.x<=this.max.x&&e.max.y>=this.min.y&&e.min.y<=this.max.y&&e.max.z>=this.min.z&&e.min.z<=this.max.z}intersectsSphere(e){return this.clampPoint(e.center,sn),sn.distanceToSquared(e.center)<=e.radius*e.radius}intersectsPlane(e){let t,i;return e.normal.x>0?(t=e.normal.x*this.min.x,i=e.normal.x*this.max.x):(t=e.normal.x*this.max.x,i=e.normal.x*this.min.x),e.normal.y>0?(t+=e.normal.y*this.min.y,i+=e.normal.y*this.max.y):(t+=e.normal.y*this.max.y,i+=e.normal.y*this.min.y),e.normal.z>0?(t+=e.normal.z*this.min.z,i+=e.normal.z*this.max.z):(t+=e.normal.z*this.max.z,i+=e.normal.z*this.min.z),t<=-e.constant&&i>=-e.constant}intersectsTriangle(e){if(this.isEmpty())return!1;this.getCenter(Br),Xs.subVectors(this.max,Br),ji.subVectors(e.a,Br),Zi.subVectors(e.b,Br),Ki.subVectors(e.c,Br),Vn.subVectors(Zi,ji),Gn.subVectors(Ki,Zi),pi.subVectors(ji,Ki);let t=[0,-Vn.z,Vn.y,0,-Gn.z,Gn.y,0,-pi.z,pi.y,Vn.z,0,-Vn.x,Gn.z,0,-Gn.x,pi.z,0,-pi.x,-Vn.y,Vn.x,0,-Gn.y,Gn.x,0,-pi.y,pi.x,0];return!Dl(t,ji,Zi,Ki,Xs)||(t=[1,0,0,0,1,0,0,0,1],!Dl(t,ji,Zi,Ki,Xs))?!1:(qs.crossVectors(Vn,Gn),t=[qs.x,qs.y,qs.z],Dl(t,ji,Zi,Ki,Xs))}clampPoint(e,t){return t.copy(e).clamp(this.min,this.max)}distanceToPoint(e){return this.clampPoint(e,sn).distanceTo(e)}getBoundingSphere(e){return this.isEmpty()?e.makeEmpty():(this.getCenter(e.center),e.radius=this.getSize(sn).length()*.5),e}intersect(e){return this.min.max(e.min),this.max.min(e.max),this.isEmpty()&&this.makeEmpty(),this}union(e){return this.min.min(e.min),this.max.max(e.max),this}applyMatrix4(e){return this.isEmpty()?this:(En[0].set(this.min.x,this.min.y,this.min.z).applyMatrix4(e),En[1].set(this.min.x,this.min.y,this.max.z).applyMatrix4(e),En[2].set(this.min.x,this.max.y,this.min.z).applyMatrix4(e),En[3].set(this.min.x,this.max.y,this.max.z).applyMatrix4(e),En[4].set(this.max.x,this.min.y,this.min.z).applyMatrix4(e),En[5].set(this.max.x,this.min.y,this.max.z).applyMatrix4(e),En[6].set(this.max.x,this.max.y,this.min.z).applyMatrix4(e),En[7].set(this.max.x,this.max.y,this.max.z).applyMatrix4(e),this.setFromPoints(En),this)}translate(e){return this.min.add(e),this.max.add(e),this}equals(e){return e.min.equals(this.min)&&e.max.equals(this.max)}toJSON(){return{min:this.min.toArray(),max:this.max.toArray()}}fromJSON(e){return this.min.fromArray(e.min),this.max.fromArray(e.max),this}}const En=[new O,new O,new O,new O,new O,new O,new O,new O],sn=new O,$s=new Or,ji=new O,Zi=new O,Ki=new O,Vn=new O,Gn=new O,pi=new O,Br=new O,Xs=new O,qs=new O,mi=new O;function Dl(n,e,t,i,r){for(let s=0,a=n.length-3;s<=a;s+=3){mi.fromArray(n,s);const o=r.x*Math.abs(mi.x)+r.y*Math.abs(mi.y)+r.z*Math.abs(mi.z),l=e.dot(mi),c=t.dot(mi),u=i.dot(mi);if(Math.max(-Math.max(l,c,u),Math.min(l,c,u))>o)return!1}return!0}const R_=new Or,zr=new O,Ll=new O;class Ys{constructor(e=new O,t=-1){this.isSphere=!0,this.center=e,this.radius=t}set(e,t){return this.center.copy(e),this.radius=t,this}setFromPoints(e,t){const i=this.center;t!==void 0?i.copy(t):R_.setFromPoints(e).getCenter(i);let r=0;for(let s=0,a=e.length;s<a;s++)r=Math.max(r,i.distanceToSquared(e[s]));return this.radius=Math.sqrt(r),this}copy(e){return this.center.copy(e.center),this.radius=e.radius,this}isEmpty(){return this.radius<0}makeEmpty(){return this.center.set(0,0,0),this.radius=-1,this}containsPoint(e){return e.distanceToSquared(this.center)<=this.radius*this.radius}distanceToPoint(e){return e.distanceTo(this.center)-this.radius}intersectsSphere(e){const t=this.radius+e.radius;return e.center.distanceToSquared(this.center)<=t*t}intersectsBox(e){return e.intersectsSphere(this)}intersectsPlane(e){return Math.abs(e.distanceToPoint(this.center))<=this.radius}clampPoint(e,t){const i=this.center.distanceToSquared(e);return t.copy(e),i>this.radius*this.radius&&(t.sub(this.center).normalize(),t.multiplyScalar(this.radius).add(this.center)),t}getBoundingBox(e){return this.isEmpty()?(e.makeEmpty(),e):(e.set(this.center,this.center),e.expandByScalar(this.radius),e)}applyMatrix4(e){return this.center.applyMatrix4(e),this.radius=this.radius*e.getMaxScaleOnAxis(),this}translate(e){return this.center.add(e),this}expandByPoint(e){if(this.isEmpty())return this.center.copy(e),this.radius=0,this;zr.subVectors(e,this.center);const t=zr.lengthSq();if(t>this.radius*this.radius){const i=Math.sqrt(t),r=(i-this.radius)*.5;this.center.addScaledVector(zr,r/i),this.radius+=r}return this}union(e){return e.isEmpty()?this:this.isEmpty()?(this.copy(e),this):(this.center.equals(e.center)===!0?this.radius=Math.max(this.radius,e.radius):(Ll.subVectors(e.center,this.center).setLength(e.radius),this.expandByPoint(zr.copy(e.center).add(Ll)),this.expandByPoint(zr.copy(e.center).sub(Ll))),this)}equals(e){return e.center.equals(this.center)&&e.radius===this.radius}clone(){return new this.constructor().copy(this)}toJSON(){return{radius:this.radius,center:this.center.toArray()}}fromJSON(e){return this.radius=e.radius,this.center.fromArray(e.center),this}}const Tn=new O,Nl=new O,js=new O,Wn=new O,Ul=new O,Zs=new O,Il=new O;class Ks{constructor(e=new O,t=new O(0,0,-1)){this.origin=e,this.direction=t}set(e,t){return this.origin.copy(e),this.direction.copy(t),this}copy(e){return this.origin.copy(e.origin),this.direction.copy(e.direction),this}at(e,t){return t.copy(this.origin).addScaledVector(this.direction,e)}lookAt(e){return this.direction.copy(e).sub(this.origin).normalize(),this}recast(e){return this.origin.copy(this.at(e,Tn)),this}closestPointToPoint(e,t){t.subVectors(e,this.origin);const i=t.dot(this.direction);return i<0?t.copy(this.origin):t.copy(this.origin).addScaledVector(this.direction,i)}distanceToPoint(e){return Math.sqrt(this.distanceSqToPoint(e))}distanceSqToPoint(e){const t=Tn.subVectors(e,this.origin).dot(this.direction);return t<0?this.origin.distanceToSquared(e):(Tn.copy(this.origin).addScaledVector(this.direction,t),Tn.distanceToSquared(e))}distanceSqToSegment(e,t,i,r){Nl.copy(e).add(t).multiplyScalar(.5),js.copy(t).sub(e).normalize(),Wn.copy(this.origin).sub(Nl);const s=e.distanceTo(t)*.5,a=-this.direction.dot(js),o=Wn.dot(this.direction),l=-Wn.dot(js),c=Wn.lengthSq(),u=Math.abs(1-a*a);let d,h,p,g;if(u>0)if(d=a*l-o,h=a*o-l,g=s*u,d>=0)if(h>=-g)if(h<=g){const _=1/u;d*=_,h*=_,p=d*(d+a*h+2*o)+h*(a*d+h+2*l)+c}else h=s,d=Math.max(0,-(a*h+o)),p=-d*d+h*(h+2*l)+c;else h=-s,d=Math.max(0,-(a*h+o)),p=-d*d+h*(h+2*l)+c;else h<=-g?(d=Math.max(0,-(-a*s+o)),h=d>0?-s:Math.min(Math.max(-s,-l),s),p=-d*d+h*(h+2*l)+c):h<=g?(d=0,h=Math.min(Math.max(-s,-l),s),p=h*(h+2*l)+c):(d=Math.max(0,-(a*s+o)),h=d>0?s:Math.min(Math.max(-s,-l),s),p=-d*d+h*(h+2*l)+c);else h=a>0?-s:s,d=Math.max(0,-(a*h+o)),p=-d*d+h*(h+2*l)+c;return i&&i.copy(this.origin).addScaledVector(this.direction,d),r&&r.copy(Nl).addScaledVector(js,h),p}intersectSphere(e,t){Tn.subVectors(e.center,this.origin);const i=Tn.dot(this.direction),r=Tn.dot(Tn)-i*i,s=e.radius*e.radius;if(r>s)return null;const a=Math.sqrt(s-r),o=i-a,l=i+a;return l<0?null:o<0?this.at(l,t):this.at(o,t)}intersectsSphere(e){return e.radius<0?!1:this.distanceSqToPoint(e.center)<=e.radius*e.radius}distanceToPlane(e){const t=e.normal.dot(this.direction);if(t===0)return e.distanceToPoint(this.origin)===0?0:null;const i=-(this.origin.dot(e.normal)+e.constant)/t;return i>=0?i:null}intersectPlane(e,t){const i=this.distanceToPlane(e);return i===null?null:this.at(i,t)}intersectsPlane(e){const t=e.distanceToPoint(this.origin);return t===0||e.normal.dot(this.direction)*t<0}intersectBox(e,t){let i,r,s,a,o,l;const c=1/this.direction.x,u=1/this.direction.y,d=1/this.direction.z,h=this.origin;return c>=0?(i=(e.min.x-h.x)*c,r=(e.max.x-h.x)*c):(i=(e.max.x-h.x)*c,r=(e.min.x-h.x)*c),u>=0?(s=(e.min.y-h.y)*u,a=(e.max.y-h.y)*u):(s=(e.max.y-h.y)*u,a=(e.min.y-h.y)*u),i>a||s>r||((s>i||isNaN(i))&&(i=s),(a<r||isNaN(r))&&(r=a),d>=0?(o=(e.min.z-h.z)*d,l=(e.max.z-h.z)*d):(o=(e.max.z-h.z)*d,l=(e.min.z-h.z)*d),i>l||o>r)||((o>i||i!==i)&&(i=o),(l<r||r!==r)&&(r=l),r<0)?null:this.at(i>=0?i:r,t)}intersectsBox(e){return this.intersectBox(e,Tn)!==null}intersectTriangle(e,t,i,r,s){Ul.subVectors(t,e),Zs.subVectors(i,e),Il.crossVectors(Ul,Zs);let a=this.direction.dot(Il),o;if(a>0){if(r)return null;o=1}else if(a<0)o=-1,a=-a;else return null;Wn.subVectors(this.origin,e);const l=o*this.direction.dot(Zs.crossVectors(Wn,Zs));if(l<0)return null;const c=o*this.direction.dot(Ul.cross(Wn));if(c<0||l+c>a)return null;const u=-o*Wn.dot(Il);return u<0?null:this.at(u/a,s)}applyMatrix4(e){return this.origin.applyMatrix4(e),this.direction.transformDirection(e),this}equals(e){return e.origin.equals(this.origin)&&e.direction.equals(this.direction)}clone(){return new this.constructor().copy(this)}}class dt{constructor(e,t,i,r,s,a,o,l,c,u,d,h,p,g,_,m){dt.prototype.isMatrix4=!0,this.elements=[1,0,0,0,0,1,0,0,0,0,1,0,0,0,0,1],e!==void 0&&this.set(e,t,i,r,s,a,o,l,c,u,d,h,p,g,_,m)}set(e,t,i,r,s,a,o,l,c,u,d,h,p,g,_,m){const f=this.elements;return f[0]=e,f[4]=t,f[8]=i,f[12]=r,f[1]=s,f[5]=a,f[9]=o,f[13]=l,f[2]=c,f[6]=u,f[10]=d,f[14]=h,f[3]=p,f[7]=g,f[11]=_,f[15]=m,this}identity(){return this.set(1,0,0,0,0,1,0,0,0,0,1,0,0,0,0,1),this}clone(){return new dt().fromArray(this.elements)}copy(e){const t=this.elements,i=e.elements;return t[0]=i[0],t[1]=i[1],t[2]=i[2],t[3]=i[3],t[4]=i[4],t[5]=i[5],t[6]=i[6],t[7]=i[7],t[8]=i[8],t[9]=i[9],t[10]=i[10],t[11]=i[11],t[12]=i[12],t[13]=i[13],t[14]=i[14],t[15]=i[15],this}copyPosition(e){const t=this.elements,i=e.elements;return t[12]=i[12],t[13]=i[13],t[14]=i[14],this}setFromMatrix3(e){const t=e.elements;return this.set(t[0],t[3],t[6],0,t[1],t[4],t[7],0,t[2],t[5],t[8],0,0,0,0,1),this}extractBasis(e,t,i){return e.setFromMatrixColumn(this,0),t.setFromMatrixColumn(this,1),i.setFromMatrixColumn(this,2),this}makeBasis(e,t,i){return this.set(e.x,t.x,i.x,0,e.y,t.y,i.y,0,e.z,t.z,i.z,0,0,0,0,1),this}extractRotation(e){const t=this.elements,i=e.elements,r=1/Ji.setFromMatrixColumn(e,0).length(),s=1/Ji.setFromMatrixColumn(e,1).length(),a=1/Ji.setFromMatrixColumn(e,2).length();return t[0]=i[0]*r,t[1]=i[1]*r,t[2]=i[2]*r,t[3]=0,t[4]=i[4]*s,t[5]=i[5]*s,t[6]=i[6]*s,t[7]=0,t[8]=i[8]*a,t[9]=i[9]*a,t[10]=i[10]*a,t[11]=0,t[12]=0,t[13]=0,t[14]=0,t[15]=1,this}makeRotationFromEuler(e){const t=this.elements,i=e.x,r=e.y,s=e.z,a=Math.cos(i),o=Math.sin(i),l=Math.cos(r),c=Math.sin(r),u=Math.cos(s),d=Math.sin(s);if(e.order==="XYZ"){const h=a*u,p=a*d,g=o*u,_=o*d;t[0]=l*u,t[4]=-l*d,t[8]=c,t[1]=p+g*c,t[5]=h-_*c,t[9]=-o*l,t[2]=_-h*c,t[6]=g+p*c,t[10]=a*l}else if(e.order==="YXZ"){const h=l*u,p=l*d,g=c*u,_=c*d;t[0]=h+_*o,t[4]=g*o-p,t[8]=a*c,t[1]=a*d,t[5]=a*u,t[9]=-o,t[2]=p*o-g,t[6]=_+h*o,t[10]=a*l}else if(e.order==="ZXY"){const h=l*u,p=l*d,g=c*u,_=c*d;t[0]=h-_*o,t[4]=-a*d,t[8]=g+p*o,t[1]=p+g*o,t[5]=a*u,t[9]=_-h*o,t[2]=-a*c,t[6]=o,t[10]=a*l}else if(e.order==="ZYX"){const h=a*u,p=a*d,g=o*u,_=o*d;t[0]=l*u,t[4]=g*c-p,t[8]=h*c+_,t[1]=l*d,t[5]=_*c+h,t[9]=p*c-g,t[2]=-c,t[6]=o*l,t[10]=a*l}else if(e.order==="YZX"){const h=a*l,p=a*c,g=o*l,_=o*c;t[0]=l*u,t[4]=_-h*d,t[8]=g*d+p,t[1]=d,t[5]=a*u,t[9]=-o*u,t[2]=-c*u,t[6]=p*d+g,t[10]=h-_*d}else if(e.order==="XZY"){const h=a*l,p=a*c,g=o*l,_=o*c;t[0]=l*u,t[4]=-d,t[8]=c*u,t[1]=h*d+_,t[5]=a*u,t[9]=p*d-g,t[2]=g*d-p,t[6]=o*u,t[10]=_*d+h}return t[3]=0,t[7]=0,t[11]=0,t[12]=0,t[13]=0,t[14]=0,t[15]=1,this}makeRotationFromQuaternion(e){return this.compose(C_,e,P_)}lookAt(e,t,i){const r=this.elements;return Vt.subVectors(e,t),Vt.lengthSq()===0&&(Vt.z=1),Vt.normalize(),$n.crossVectors(i,Vt),$n.lengthSq()===0&&(Math.abs(i.z)===1?Vt.x+=1e-4:Vt.z+=1e-4,Vt.normalize(),$n.crossVectors(i,Vt)),$n.normalize(),Js.crossVectors(Vt,$n),r[0]=$n.x,r[4]=Js.x,r[8]=Vt.x,r[1]=$n.y,r[5]=Js.y,r[9]=Vt.y,r[2]=$n.z,r[6]=Js.z,r[10]=Vt.z,this}multiply(e){return this.multiplyMatrices(this,e)}premultiply(e){return this.multiplyMatrices(e,this)}multiplyMatrices(e,t){const i=e.elements,r=t.elements,s=this.elements,a=i[0],o=i[4],l=i[8],c=i[12],u=i[1],d=i[5],h=i[9],p=i[13],g=i[2],_=i[6],m=i[10],f=i[14],E=i[3],y=i[7],M=i[11],C=i[15],A=r[0],D=r[4],F=r[8],w=r[12],b=r[1],P=r[5],k=r[9],G=r[13],W=r[2],Y=r[6],q=r[10],te=r[14],V=r[3],se=r[7],oe=r[11],ye=r[15];return s[0]=a*A+o*b+l*W+c*V,s[4]=a*D+o*P+l*Y+c*se,s[8]=a*F+o*k+l*q+c*oe,s[12]=a*w+o*G+l*te+c*ye,s[1]=u*A+d*b+h*W+p*V,s[5]=u*D+d*P+h*Y+p*se,s[9]=u*F+d*k+h*q+p*oe,s[13]=u*w+d*G+h*te+p*ye,s[2]=g*A+_*b+m*W+f*V,s[6]=g*D+_*P+m*Y+f*se,s[10]=g*F+_*k+m*q+f*oe,s[14]=g*w+_*G+m*te+f*ye,s[3]=E*A+y*b+M*W+C*V,s[7]=E*D+y*P+M*Y+C*se,s[11]=E*F+y*k+M*q+C*oe,s[15]=E*w+y*G+M*te+C*ye,this}multiplyScalar(e){const t=this.elements;return t[0]*=e,t[4]*=e,t[8]*=e,t[12]*=e,t[1]*=e,t[5]*=e,t[9]*=e,t[13]*=e,t[2]*=e,t[6]*=e,t[10]*=e,t[14]*=e,t[3]*=e,t[7]*=e,t[11]*=e,t[15]*=e,this}determinant(){const e=this.elements,t=e[0],i=e[4],r=e[8],s=e[12],a=e[1],o=e[5],l=e[9],c=e[13],u=e[2],d=e[6],h=e[10],p=e[14],g=e[3],_=e[7],m=e[11],f=e[15];return g*(+s*l*d-r*c*d-s*o*h+i*c*h+r*o*p-i*l*p)+_*(+t*l*p-t*c*h+s*a*h-r*a*p+r*c*u-s*l*u)+m*(+t*c*d-t*o*p-s*a*d+i*a*p+s*o*u-i*c*u)+f*(-r*o*u-t*l*d+t*o*h+r*a*d-i*a*h+i*l*u)}transpose(){const e=this.elements;let t;return t=e[1],e[1]=e[4],e[4]=t,t=e[2],e[2]=e[8],e[8]=t,t=e[6],e[6]=e[9],e[9]=t,t=e[3],e[3]=e[12],e[12]=t,t=e[7],e[7]=e[13],e[13]=t,t=e[11],e[11]=e[14],e[14]=t,this}setPosition(e,t,i){const r=this.elements;return e.isVector3?(r[12]=e.x,r[13]=e.y,r[14]=e.z):(r[12]=e,r[13]=t,r[14]=i),this}invert(){const e=this.elements,t=e[0],i=e[1],r=e[2],s=e[3],a=e[4],o=e[5],l=e[6],c=e[7],u=e[8],d=e[9],h=e[10],p=e[11],g=e[12],_=e[13],m=e[14],f=e[15],E=d*m*c-_*h*c+_*l*p-o*m*p-d*l*f+o*h*f,y=g*h*c-u*m*c-g*l*p+a*m*p+u*l*f-a*h*f,M=u*_*c-g*d*c+g*o*p-a*_*p-u*o*f+a*d*f,C=g*d*l-u*_*l-g*o*h+a*_*h+u*o*m-a*d*m,A=t*E+i*y+r*M+s*C;if(A===0)return this.set(0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0);const D=1/A;return e[0]=E*D,e[1]=(_*h*s-d*m*s-_*r*p+i*m*p+d*r*f-i*h*f)*D,e[2]=(o*m*s-_*l*s+_*r*c-i*m*c-o*r*f+i*l*f)*D,e[3]=(d*l*s-o*h*s-d*r*c+i*h*c+o*r*p-i*l*p)*D,e[4]=y*D,e[5]=(u*m*s-g*h*s+g*r*p-t*m*p-u*r*f+t*h*f)*D,e[6]=(g*l*s-a*m*s-g*r*c+t*m*c+a*r*f-t*l*f)*D,e[7]=(a*h*s-u*l*s+u*r*c-t*h*c-a*r*p+t*l*p)*D,e[8]=M*D,e[9]=(g*d*s-u*_*s-g*i*p+t*_*p+u*i*f-t*d*f)*D,e[10]=(a*_*s-g*o*s+g*i*c-t*_*c-a*i*f+t*o*f)*D,e[11]=(u*o*s-a*d*s-u*i*c+t*d*c+a*i*p-t*o*p)*D,e[12]=C*D,e[13]=(u*_*r-g*d*r+g*i*h-t*_*h-u*i*m+t*d*m)*D,e[14]=(g*o*r-a*_*r-g*i*l+t*_*l+a*i*m-t*o*m)*D,e[15]=(a*d*r-u*o*r+u*i*l-t*d*l-a*i*h+t*o*h)*D,this}scale(e){const t=this.elements,i=e.x,r=e.y,s=e.z;return t[0]*=i,t[4]*=r,t[8]*=s,t[1]*=i,t[5]*=r,t[9]*=s,t[2]*=i,t[6]*=r,t[10]*=s,t[3]*=i,t[7]*=r,t[11]*=s,this}getMaxScaleOnAxis(){const e=this.elements,t=e[0]*e[0]+e[1]*e[1]+e[2]*e[2],i=e[4]*e[4]+e[5]*e[5]+e[6]*e[6],r=e[8]*e[8]+e[9]*e[9]+e[10]*e[10];return Math.sqrt(Math.max(t,i,r))}makeTranslation(e,t,i){return e.isVector3?this.set(1,0,0,e.x,0,1,0,e.y,0,0,1,e.z,0,0,0,1):this.set(1,0,0,e,0,1,0,t,0,0,1,i,0,0,0,1),this}makeRotationX(e){const t=Math.cos(e),i=Math.sin(e);return this.set(1,0,0,0,0,t,-i,0,0,i,t,0,0,0,0,1),this}makeRotationY(e){const t=Math.cos(e),i=Math.sin(e);return this.set(t,0,i,0,0,1,0,0,-i,0,t,0,0,0,0,1),this}makeRotationZ(e){const t=Math.cos(e),i=Math.sin(e);return this.set(t,-i,0,0,i,t,0,0,0,0,1,0,0,0,0,1),this}makeRotationAxis(e,t){const i=Math.cos(t),r=Math.sin(t),s=1-i,a=e.x,o=e.y,l=e.z,c=s*a,u=s*o;return this.set(c*a+i,c*o-r*l,c*l+r*o,0,c*o+r*l,u*o+i,u*l-r*a,0,c*l-r*o,u*l+r*a,s*l*l+i,0,0,0,0,1),this}makeScale(e,t,i){return this.set(e,0,0,0,0,t,0,0,0,0,i,0,0,0,0,1),this}makeShear(e,t,i,r,s,a){return this.set(1,i,s,0,e,1,a,0,t,r,1,0,0,0,0,1),this}compose(e,t,i){const r=this.elements,s=t._x,a=t._y,o=t._z,l=t._w,c=s+s,u=a+a,d=o+o,h=s*c,p=s*u,g=s*d,_=a*u,m=a*d,f=o*d,E=l*c,y=l*u,M=l*d,C=i.x,A=i.y,D=i.z;return r[0]=(1-(_+f))*C,r[1]=(p+M)*C,r[2]=(g-y)*C,r[3]=0,r[4]=(p-M)*A,r[5]=(1-(h+f))*A,r[6]=(m+E)*A,r[7]=0,r[8]=(g+y)*D,r[9]=(m-E)*D,r[10]=(1-(h+_))*D,r[11]=0,r[12]=e.x,r[13]=e.y,r[14]=e.z,r[15]=1,this}decompose(e,t,i){const r=this.elements;let s=Ji.set(r[0],r[1],r[2]).length();const a=Ji.set(r[4],r[5],r[6]).length(),o=Ji.set(r[8],r[9],r[10]).length();this.determinant()<0&&(s=-s),e.x=r[12],e.y=r[13],e.z=r[14],an.copy(this);const c=1/s,u=1/a,d=1/o;return an.elements[0]*=c,an.elements[1]*=c,an.elements[2]*=c,an.elements[4]*=u,an.elements[5]*=u,an.elements[6]*=u,an.elements[8]*=d,an.elements[9]*=d,an.elements[10]*=d,t.setFromRotationMatrix(an),i.x=s,i.y=a,i.z=o,this}makePerspective(e,t,i,r,s,a,o=pn,l=!1){const c=this.elements,u=2*s/(t-e),d=2*s/(i-r),h=(t+e)/(t-e),p=(i+r)/(i-r);let g,_;if(l)g=s/(a-s),_=a*s/(a-s);else if(o===pn)g=-(a+s)/(a-s),_=-2*a*s/(a-s);else if(o===Vs)g=-a/(a-s),_=-a*s/(a-s);else throw new Error("THREE.Matrix4.makePerspective(): Invalid coordinate system: "+o);return c[0]=u,c[4]=0,c[8]=h,c[12]=0,c[1]=0,c[5]=d,c[9]=p,c[13]=0,c[2]=0,c[6]=0,c[10]=g,c[14]=_,c[3]=0,c[7]=0,c[11]=-1,c[15]=0,this}makeOrthographic(e,t,i,r,s,a,o=pn,l=!1){const c=this.elements,u=2/(t-e),d=2/(i-r),h=-(t+e)/(t-e),p=-(i+r)/(i-r);let g,_;if(l)g=1/(a-s),_=a/(a-s);else if(o===pn)g=-2/(a-s),_=-(a+s)/(a-s);else if(o===Vs)g=-1/(a-s),_=-s/(a-s);else throw new Error("THREE.Matrix4.makeOrthographic(): Invalid coordinate system: "+o);return c[0]=u,c[4]=0,c[8]=0,c[12]=h,c[1]=0,c[5]=d,c[9]=0,c[13]=p,c[2]=0,c[6]=0,c[10]=g,c[14]=_,c[3]=0,c[7]=0,c[11]=0,c[15]=1,this}equals(e){const t=this.elements,i=e.elements;for(let r=0;r<16;r++)if(t[r]!==i[r])return!1;return!0}fromArray(e,t=0){for(let i=0;i<16;i++)this.elements[i]=e[i+t];return this}toArray(e=[],t=0){const i=this.elements;return e[t]=i[0],e[t+1]=i[1],e[t+2]=i[2],e[t+3]=i[3],e[t+4]=i[4],e[t+5]=i[5],e[t+6]=i[6],e[t+7]=i[7],e[t+8]=i[8],e[t+9]=i[9],e[t+10]=i[10],e[t+11]=i[11],e[t+12]=i[12],e[t+13]=i[13],e[t+14]=i[14],e[t+15]=i[15],e}}const Ji=new O,an=new dt,C_=new O(0,0,0),P_=new O(1,1,1),$n=new O,Js=new O,Vt=new O,vd=new dt,xd=new di;class An{constructor(e=0,t=0,i=0,r=An.DEFAULT_ORDER){this.isEuler=!0,this._x=e,this._y=t,this._z=i,this._order=r}get x(){return this._x}set x(e){this._x=e,this._onChangeCallback()}get y(){return this._y}set y(e){this._y=e,this._onChangeCallback()}get z(){return this._z}set z(e){this._z=e,this._onChangeCallback()}get order(){return this._order}set order(e){this._order=e,this._onChangeCallback()}set(e,t,i,r=this._order){return this._x=e,this._y=t,this._z=i,this._order=r,this._onChangeCallback(),this}clone(){return new this.constructor(this._x,this._y,this._z,this._order)}copy(e){return this._x=e._x,this._y=e._y,this._z=e._z,this._order=e._order,this._onChangeCallback(),this}setFromRotationMatrix(e,t=this._order,i=!0){const r=e.elements,s=r[0],a=r[4],o=r[8],l=r[1],c=r[5],u=r[9],d=r[2],h=r[6],p=r[10];switch(t){case"XYZ":this._y=Math.asin(Be(o,-1,1)),Math.abs(o)<.9999999?(this._x=Math.atan2(-u,p),this._z=Math.atan2(-a,s)):(this._x=Math.atan2(h,c),this._z=0);break;case"YXZ":this._x=Math.asin(-Be(u,-1,1)),Math.abs(u)<.9999999?(this._y=Math.atan2(o,p),this._z=Math.atan2(l,c)):(this._y=Math.atan2(-d,s),this._z=0);break;case"ZXY":this._x=Math.asin(Be(h,-1,1)),Math.abs(h)<.9999999?(this._y=Math.atan2(-d,p),this._z=Math.atan2(-a,c)):(this._y=0,this._z=Math.atan2(l,s));break;case"ZYX":this._y=Math.asin(-Be(d,-1,1)),Math.abs(d)<.9999999?(this._x=Math.atan2(h,p),this._z=Math.atan2(l,s)):(this._x=0,this._z=Math.atan2(-a,c));break;case"YZX":this._z=Math.asin(Be(l,-1,1)),Math.abs(l)<.9999999?(this._x=Math.atan2(-u,c),this._y=Math.atan2(-d,s)):(this._x=0,this._y=Math.atan2(o,p));break;case"XZY":this._z=Math.asin(-Be(a,-1,1)),Math.abs(a)<.9999999?(this._x=Math.atan2(h,c),this._y=Math.atan2(o,s)):(this._x=Math.atan2(-u,p),this._y=0);break;default:console.warn("THREE.Euler: .setFromRotationMatrix() encountered an unknown order: "+t)}return this._order=t,i===!0&&this._onChangeCallback(),this}setFromQuaternion(e,t,i){return vd.makeRotationFromQuaternion(e),this.setFromRotationMatrix(vd,t,i)}setFromVector3(e,t=this._order){return this.set(e.x,e.y,e.z,t)}reorder(e){return xd.setFromEuler(this),this.setFromQuaternion(xd,e)}equals(e){return e._x===this._x&&e._y===this._y&&e._z===this._z&&e._order===this._order}fromArray(e){return this._x=e[0],this._y=e[1],this._z=e[2],e[3]!==void 0&&(this._order=e[3]),this._onChangeCallback(),this}toArray(e=[],t=0){return e[t]=this._x,e[t+1]=this._y,e[t+2]=this._z,e[t+3]=this._order,e}_onChange(e){return this._onChangeCallback=e,this}_onChangeCallback(){}*[Symbol.iterator](){yield this._x,yield this._y,yield this._z,yield this._order}}An.DEFAULT_ORDER="XYZ";class kl{constructor(){this.mask=1}set(e){this.mask=(1<<e|0)>>>0}enable(e){this.mask|=1<<e|0}enableAll(){this.mask=-1}toggle(e){this.mask^=1<<e|0}disable(e){this.mask&=~(1<<e|0)}disableAll(){this.mask=0}test(e){return(this.mask&e.mask)!==0}isEnabled(e){return(this.mask&(1<<e|0))!==0}}let D_=0;const Sd=new O,Qi=new di,Rn=new dt,Qs=new O,Hr=new O,L_=new O,N_=new di,bd=new O(1,0,0),Md=new O(0,1,0),wd=new O(0,0,1),yd={type:"added"},U_={type:"removed"},er={type:"childadded",child:null},Fl={type:"childremoved",child:null};class Ft extends ui{constructor(){super(),this.isObject3D=!0,Object.defineProperty(this,"id",{value:D_++}),this.uuid=Ir(),this.name="",this.type="Object3D",this.parent=null,this.children=[],this.up=Ft.DEFAULT_UP.clone();const e=new O,t=new An,i=new di,r=new O(1,1,1);function s(){i.setFromEuler(t,!1)}function a(){t.setFromQuaternion(i,void 0,!1)}t._onChange(s),i._onChange(a),Object.defineProperties(this,{position:{configurable:!0,enumerable:!0,value:e},rotation:{configurable:!0,enumerable:!0,value:t},quaternion:{configurable:!0,enumerable:!0,value:i},scale:{configurable:!0,enumerable:!0,value:r},modelViewMatrix:{value:new dt},normalMatrix:{value:new Ue}}),this.matrix=new dt,this.matrixWorld=new dt,this.matrixAutoUpdate=Ft.DEFAULT_MATRIX_AUTO_UPDATE,this.matrixWorldAutoUpdate=Ft.DEFAULT_MATRIX_WORLD_AUTO_UPDATE,this.matrixWorldNeedsUpdate=!1,this.layers=new kl,this.visible=!0,this.castShadow=!1,this.receiveShadow=!1,this.frustumCulled=!0,this.renderOrder=0,this.animations=[],this.customDepthMaterial=void 0,this.customDistanceMaterial=void 0,this.userData={}}onBeforeShadow(){}onAfterShadow(){}onBeforeRender(){}onAfterRender(){}applyMatrix4(e){this.matrixAutoUpdate&&this.updateMatrix(),this.matrix.premultiply(e),this.matrix.decompose(this.position,this.quaternion,this.scale)}applyQuaternion(e){return this.quaternion.premultiply(e),this}setRotationFromAxisAngle(e,t){this.quaternion.setFromAxisAngle(e,t)}setRotationFromEuler(e){this.quaternion.setFromEuler(e,!0)}setRotationFromMatrix(e){this.quaternion.setFromRotationMatrix(e)}setRotationFromQuaternion(e){this.quaternion.copy(e)}rotateOnAxis(e,t){return Qi.setFromAxisAngle(e,t),this.quaternion.multiply(Qi),this}rotateOnWorldAxis(e,t){return Qi.setFromAxisAngle(e,t),this.quaternion.premultiply(Qi),this}rotateX(e){return this.rotateOnAxis(bd,e)}rotateY(e){return this.rotateOnAxis(Md,e)}rotateZ(e){return this.rotateOnAxis(wd,e)}translateOnAxis(e,t){return Sd.copy(e).applyQuaternion(this.quaternion),this.position.add(Sd.multiplyScalar(t)),this}translateX(e){return this.translateOnAxis(bd,e)}translateY(e){return this.translateOnAxis(Md,e)}translateZ(e){return this.translateOnAxis(wd,e)}localToWorld(e){return this.updateWorldMatrix(!0,!1),e.applyMatrix4(this.matrixWorld)}worldToLocal(e){return this.updateWorldMatrix(!0,!1),e.applyMatrix4(Rn.copy(this.matrixWorld).invert())}lookAt(e,t,i){e.isVector3?Qs.copy(e):Qs.set(e,t,i);const r=this.parent;this.updateWorldMatrix(!0,!1),Hr.setFromMatrixPosition(this.matrixWorld),this.isCamera||this.isLight?Rn.lookAt(Hr,Qs,this.up):Rn.lookAt(Qs,Hr,this.up),this.quaternion.setFromRotationMatrix(Rn),r&&(Rn.extractRotation(r.matrixWorld),Qi.setFromRotationMatrix(Rn),this.quaternion.premultiply(Qi.invert()))}add(e){if(arguments.length>1){for(let t=0;t<arguments.length;t++)this.add(arguments[t]);return this}return e===this?(console.error("THREE.Object3D.add: object can't be added as a child of itself.",e),this):(e&&e.isObject3D?(e.removeFromParent(),e.parent=this,this.children.push(e),e.dispatchEvent(yd),er.child=e,this.dispatchEvent(er),er.child=null):console.error("THREE.Object3D.add: object not an instance of THREE.Object3D.",e),this)}remove(e){if(arguments.length>1){for(let i=0;i<arguments.length;i++)this.remove(arguments[i]);return this}const t=this.children.indexOf(e);return t!==-1&&(e.parent=null,this.children.splice(t,1),e.dispatchEvent(U_),Fl.child=e,this.dispatchEvent(Fl),Fl.child=null),this}removeFromParent(){const e=this.parent;return e!==null&&e.remove(this),this}clear(){return this.remove(...this.children)}attach(e){return this.updateWorldMatrix(!0,!1),Rn.copy(this.matrixWorld).invert(),e.parent!==null&&(e.parent.updateWorldMatrix(!0,!1),Rn.multiply(e.parent.matrixWorld)),e.applyMatrix4(Rn),e.removeFromParent(),e.parent=this,this.children.push(e),e.updateWorldMatrix(!1,!0),e.dispatchEvent(yd),er.child=e,this.dispatchEvent(er),er.child=null,this}getObjectById(e){return this.getObjectByProperty("id",e)}getObjectByName(e){return this.getObjectByProperty("name",e)}getObjectByProperty(e,t){if(this[e]===t)return this;for(let i=0,r=this.children.length;i<r;i++){const a=this.children[i].getObjectByProperty(e,t);if(a!==void 0)return a}}getObjectsByProperty(e,t,i=[]){this[e]===t&&i.push(this);const r=this.children;for(let s=0,a=r.length;s<a;s++)r[s].getObjectsByProperty(e,t,i);return i}getWorldPosition(e){return this.updateWorldMatrix(!0,!1),e.setFromMatrixPosition(this.matrixWorld)}getWorldQuaternion(e){return this.updateWorldMatrix(!0,!1),this.matrixWorld.decompose(Hr,e,L_),e}getWorldScale(e){return this.updateWorldMatrix(!0,!1),this.matrixWorld.decompose(Hr,N_,e),e}getWorldDirection(e){this.updateWorldMatrix(!0,!1);const t=this.matrixWorld.elements;return e.set(t[8],t[9],t[10]).normalize()}raycast(){}traverse(e){e(this);const t=this.children;for(let i=0,r=t.length;i<r;i++)t[i].traverse(e)}traverseVisible(e){if(this.visible===!1)return;e(this);const t=this.children;for(let i=0,r=t.length;i<r;i++)t[i].traverseVisible(e)}traverseAncestors(e){const t=this.parent;t!==null&&(e(t),t.traverseAncestors(e))}updateMatrix(){this.matrix.compose(this.position,this.quaternion,this.scale),this.matrixWorldNeedsUpdate=!0}updateMatrixWorld(e){this.matrixAutoUpdate&&this.updateMatrix(),(this.matrixWorldNeedsUpdate||e)&&(this.matrixWorldAutoUpdate===!0&&(this.parent===null?this.matrixWorld.copy(this.matrix):this.matrixWorld.multiplyMatrices(this.parent.matrixWorld,this.matrix)),this.matrixWorldNeedsUpdate=!1,e=!0);const t=this.children;for(let i=0,r=t.length;i<r;i++)t[i].updateMatrixWorld(e)}updateWorldMatrix(e,t){const i=this.parent;if(e===!0&&i!==null&&i.updateWorldMatrix(!0,!1),this.matrixAutoUpdate&&this.updateMatrix(),this.matrixWorldAutoUpdate===!0&&(this.parent===null?this.matrixWorld.copy(this.matrix):this.matrixWorld.multiplyMatrices(this.parent.matrixWorld,this.matrix)),t===!0){const r=this.children;for(let s=0,a=r.length;s<a;s++)r[s].updateWorldMatrix(!1,!0)}}toJSON(e){const t=e===void 0||typeof e=="string",i={};t&&(e={geometries:{},materials:{},textures:{},images:{},shapes:{},skeletons:{},animations:{},nodes:{}},i.metadata={version:4.7,type:"Object",generator:"Object3D.toJSON"});const r={};r.uuid=this.uuid,r.type=this.type,this.name!==""&&(r.name=this.name),this.castShadow===!0&&(r.castShadow=!0),this.receiveShadow===!0&&(r.receiveShadow=!0),this.visible===!1&&(r.visible=!1),this.frustumCulled===!1&&(r.frustumCulled=!1),this.renderOrder!==0&&(r.renderOrder=this.renderOrder),Object.keys(this.userData).length>0&&(r.userData=this.userData),r.layers=this.layers.mask,r.matrix=this.matrix.toArray(),r.up=this.up.toArray(),this.matrixAutoUpdate===!1&&(r.matrixAutoUpdate=!1),this.isInstancedMesh&&(r.type="InstancedMesh",r.count=this.count,r.instanceMatrix=this.instanceMatrix.toJSON(),this.instanceColor!==null&&(r.instanceColor=this.instanceColor.toJSON())),this.isBatchedMesh&&(r.type="BatchedMesh",r.perObjectFrustumCulled=this.perObjectFrustumCulled,r.sortObjects=this.sortObjects,r.drawRanges=this._drawRanges,r.reservedRanges=this._reservedRanges,r.geometryInfo=this._geometryInfo.map(o=>({...o,boundingBox:o.boundingBox?o.boundingBox.toJSON():void 0,boundingSphere:o.boundingSphere?o.boundingSphere.toJSON():void 0})),r.instanceInfo=this._instanceInfo.map(o=>({...o})),r.availableInstanceIds=this._availableInstanceIds.slice(),r.availableGeometryIds=this._availableGeometryIds.slice(),r.nextIndexStart=this._nextIndexStart,r.nextVertexStart=this._nextVertexStart,r.geometryCount=this._geometryCount,r.maxInstanceCount=this._maxInstanceCount,r.maxVertexCount=this._maxVertexCount,r.maxIndexCount=this._maxIndexCount,r.geometryInitialized=this._geometryInitialized,r.matricesTexture=this._matricesTexture.toJSON(e),r.indirectTexture=this._indirectTexture.toJSON(e),this._colorsTexture!==null&&(r.colorsTexture=this._colorsTexture.toJSON(e)),this.boundingSphere!==null&&(r.boundingSphere=this.boundingSphere.toJSON()),this.boundingBox!==null&&(r.boundingBox=this.boundingBox.toJSON()));function s(o,l){return o[l.uuid]===void 0&&(o[l.uuid]=l.toJSON(e)),l.uuid}if(this.isScene)this.background&&(this.background.isColor?r.background=this.background.toJSON():this.background.isTexture&&(r.background=this.background.toJSON(e).uuid)),this.environment&&this.environment.isTexture&&this.environment.isRenderTargetTexture!==!0&&(r.environment=this.environment.toJSON(e).uuid);else if(this.isMesh||this.isLine||this.isPoints){r.geometry=s(e.geometries,this.geometry);const o=this.geometry.parameters;if(o!==void 0&&o.shapes!==void 0){const l=o.shapes;if(Array.isArray(l))for(let c=0,u=l.length;c<u;c++){const d=l[c];s(e.shapes,d)}else s(e.shapes,l)}}if(this.isSkinnedMesh&&(r.bindMode=this.bindMode,r.bindMatrix=this.bindMatrix.toArray(),this.skeleton!==void 0&&(s(e.skeletons,this.skeleton),r.skeleton=this.skeleton.uuid)),this.material!==void 0)if(Array.isArray(this.material)){const o=[];for(let l=0,c=this.material.length;l<c;l++)o.push(s(e.materials,this.material[l]));r.material=o}else r.material=s(e.materials,this.material);if(this.children.length>0){r.children=[];for(let o=0;o<this.children.length;o++)r.children.push(this.children[o].toJSON(e).object)}if(this.animations.length>0){r.animations=[];for(let o=0;o<this.animations.length;o++){const l=this.animations[o];r.animations.push(s(e.animations,l))}}if(t){const o=a(e.geometries),l=a(e.materials),c=a(e.textures),u=a(e.images),d=a(e.shapes),h=a(e.skeletons),p=a(e.animations),g=a(e.nodes);o.length>0&&(i.geometries=o),l.length>0&&(i.materials=l),c.length>0&&(i.textures=c),u.length>0&&(i.images=u),d.length>0&&(i.shapes=d),h.length>0&&(i.skeletons=h),p.length>0&&(i.animations=p),g.length>0&&(i.nodes=g)}return i.object=r,i;function a(o){const l=[];for(const c in o){const u=o[c];delete u.metadata,l.push(u)}return l}}clone(e){return new this.constructor().copy(this,e)}copy(e,t=!0){if(this.name=e.name,this.up.copy(e.up),this.position.copy(e.position),this.rotation.order=e.rotation.order,this.quaternion.copy(e.quaternion),this.scale.copy(e.scale),this.matrix.copy(e.matrix),this.matrixWorld.copy(e.matrixWorld),this.matrixAutoUpdate=e.matrixAutoUpdate,this.matrixWorldAutoUpdate=e.matrixWorldAutoUpdate,this.matrixWorldNeedsUpdate=e.matrixWorldNeedsUpdate,this.layers.mask=e.layers.mask,this.visible=e.visible,this.castShadow=e.castShadow,this.receiveShadow=e.receiveShadow,this.frustumCulled=e.frustumCulled,this.renderOrder=e.renderOrder,this.animations=e.animations.slice(),this.userData=JSON.parse(JSON.stringify(e.userData)),t===!0)for(let i=0;i<e.children.length;i++){const r=e.children[i];this.add(r.clone())}return this}}Ft.DEFAULT_UP=new O(0,1,0),Ft.DEFAULT_MATRIX_AUTO_UPDATE=!0,Ft.DEFAULT_MATRIX_WORLD_AUTO_UPDATE=!0;const on=new O,Cn=new O,Ol=new O,Pn=new O,tr=new O,nr=new O,Ed=new O,Bl=new O,zl=new O,Hl=new O,Vl=new ut,Gl=new ut,Wl=new ut;class ln{constructor(e=new O,t=new O,i=new O){this.a=e,this.b=t,this.c=i}static getNormal(e,t,i,r){r.subVectors(i,t),on.subVectors(e,t),r.cross(on);const s=r.lengthSq();return s>0?r.multiplyScalar(1/Math.sqrt(s)):r.set(0,0,0)}static getBarycoord(e,t,i,r,s){on.subVectors(r,t),Cn.subVectors(i,t),Ol.subVectors(e,t);const a=on.dot(on),o=on.dot(Cn),l=on.dot(Ol),c=Cn.dot(Cn),u=Cn.dot(Ol),d=a*c-o*o;if(d===0)return s.set(0,0,0),null;const h=1/d,p=(c*l-o*u)*h,g=(a*u-o*l)*h;return s.set(1-p-g,g,p)}static containsPoint(e,t,i,r){return this.getBarycoord(e,t,i,r,Pn)===null?!1:Pn.x>=0&&Pn.y>=0&&Pn.x+Pn.y<=1}static getInterpolation(e,t,i,r,s,a,o,l){return this.getBarycoord(e,t,i,r,Pn)===null?(l.x=0,l.y=0,"z"in l&&(l.z=0),"w"in l&&(l.w=0),null):(l.setScalar(0),l.addScaledVector(s,Pn.x),l.addScaledVector(a,Pn.y),l.addScaledVector(o,Pn.z),l)}static getInterpolatedAttribute(e,t,i,r,s,a){return Vl.setScalar(0),Gl.setScalar(0),Wl.setScalar(0),Vl.fromBufferAttribute(e,t),Gl.fromBufferAttribute(e,i),Wl.fromBufferAttribute(e,r),a.setScalar(0),a.addScaledVector(Vl,s.x),a.addScaledVector(Gl,s.y),a.addScaledVector(Wl,s.z),a}static isFrontFacing(e,t,i,r){return on.subVectors(i,t),Cn.subVectors(e,t),on.cross(Cn).dot(r)<0}set(e,t,i){return this.a.copy(e),this.b.copy(t),this.c.copy(i),this}setFromPointsAndIndices(e,t,i,r){return this.a.copy(e[t]),this.b.copy(e[i]),this.c.copy(e[r]),this}setFromAttributeAndIndices(e,t,i,r){return this.a.fromBufferAttribute(e,t),this.b.fromBufferAttribute(e,i),this.c.fromBufferAttribute(e,r),this}clone(){return new this.constructor().copy(this)}copy(e){return this.a.copy(e.a),this.b.copy(e.b),this.c.copy(e.c),this}getArea(){return on.subVectors(this.c,this.b),Cn.subVectors(this.a,this.b),on.cross(Cn).length()*.5}getMidpoint(e){return e.addVectors(this.a,this.b).add(this.c).multiplyScalar(1/3)}getNormal(e){return ln.getNormal(this.a,this.b,this.c,e)}getPlane(e){return e.setFromCoplanarPoints(this.a,this.b,this.c)}getBarycoord(e,t){return ln.getBarycoord(e,this.a,this.b,this.c,t)}getInterpolation(e,t,i,r,s){return ln.getInterpolation(e,this.a,this.b,this.c,t,i,r,s)}containsPoint(e){return ln.containsPoint(e,this.a,this.b,this.c)}isFrontFacing(e){return ln.isFrontFacing(this.a,this.b,this.c,e)}intersectsBox(e){return e.intersectsTriangle(this)}closestPointToPoint(e,t){const i=this.a,r=this.b,s=this.c;let a,o;tr.subVectors(r,i),nr.subVectors(s,i),Bl.subVectors(e,i);const l=tr.dot(Bl),c=nr.dot(Bl);if(l<=0&&c<=0)return t.copy(i);zl.subVectors(e,r);const u=tr.dot(zl),d=nr.dot(zl);if(u>=0&&d<=u)return t.copy(r);const h=l*d-u*c;if(h<=0&&l>=0&&u<=0)return a=l/(l-u),t.copy(i).addScaledVector(tr,a);Hl.subVectors(e,s);const p=tr.dot(Hl),g=nr.dot(Hl);if(g>=0&&p<=g)return t.copy(s);const _=p*c-l*g;if(_<=0&&c>=0&&g<=0)return o=c/(c-g),t.copy(i).addScaledVector(nr,o);const m=u*g-p*d;if(m<=0&&d-u>=0&&p-g>=0)return Ed.subVectors(s,r),o=(d-u)/(d-u+(p-g)),t.copy(r).addScaledVector(Ed,o);const f=1/(m+_+h);return a=_*f,o=h*f,t.copy(i).addScaledVector(tr,a).addScaledVector(nr,o)}equals(e){return e.a.equals(this.a)&&e.b.equals(this.b)&&e.c.equals(this.c)}}const Td={aliceblue:15792383,antiquewhite:16444375,aqua:65535,aquamarine:8388564,azure:15794175,beige:16119260,bisque:16770244,black:0,blanchedalmond:16772045,blue:255,blueviolet:9055202,brown:10824234,burlywood:14596231,cadetblue:6266528,chartreuse:8388352,chocolate:13789470,coral:16744272,cornflowerblue:6591981,cornsilk:16775388,crimson:14423100,cyan:65535,darkblue:139,darkcyan:35723,darkgoldenrod:12092939,darkgray:11119017,darkgreen:25600,darkgrey:11119017,darkkhaki:12433259,darkmagenta:9109643,darkolivegreen:5597999,darkorange:16747520,darkorchid:10040012,darkred:9109504,darksalmon:15308410,darkseagreen:9419919,darkslateblue:4734347,darkslategray:3100495,darkslategrey:3100495,darkturquoise:52945,darkviolet:9699539,deeppink:16716947,deepskyblue:49151,dimgray:6908265,dimgrey:6908265,dodgerblue:2003199,firebrick:11674146,floralwhite:16775920,forestgreen:2263842,fuchsia:16711935,gainsboro:14474460,ghostwhite:16316671,gold:16766720,goldenrod:14329120,gray:8421504,green:32768,greenyellow:11403055,grey:8421504,honeydew:15794160,hotpink:16738740,indianred:13458524,indigo:4915330,ivory:16777200,khaki:15787660,lavender:15132410,lavenderblush:16773365,lawngreen:8190976,lemonchiffon:16775885,lightblue:11393254,lightcoral:15761536,lightcyan:14745599,lightgoldenrodyellow:16448210,lightgray:13882323,lightgreen:9498256,lightgrey:13882323,lightpink:16758465,lightsalmon:16752762,lightseagreen:2142890,lightskyblue:8900346,lightslategray:7833753,lightslategrey:7833753,lightsteelblue:11584734,lightyellow:16777184,lime:65280,limegreen:3329330,linen:16445670,magenta:16711935,maroon:8388608,mediumaquamarine:6737322,mediumblue:205,mediumorchid:12211667,mediumpurple:9662683,mediumseagreen:3978097,mediumslateblue:8087790,mediumspringgreen:64154,mediumturquoise:4772300,mediumvioletred:13047173,midnightblue:1644912,mintcream:16121850,mistyrose:16770273,moccasin:16770229,navajowhite:16768685,navy:128,oldlace:16643558,olive:8421376,olivedrab:7048739,orange:16753920,orangered:16729344,orchid:14315734,palegoldenrod:15657130,palegreen:10025880,paleturquoise:11529966,palevioletred:14381203,papayawhip:16773077,peachpuff:16767673,peru:13468991,pink:16761035,plum:14524637,powderblue:11591910,purple:8388736,rebeccapurple:6697881,red:16711680,rosybrown:12357519,royalblue:4286945,saddlebrown:9127187,salmon:16416882,sandybrown:16032864,seagreen:3050327,seashell:16774638,sienna:10506797,silver:12632256,skyblue:8900331,slateblue:6970061,slategray:7372944,slategrey:7372944,snow:16775930,springgreen:65407,steelblue:4620980,tan:13808780,teal:32896,thistle:14204888,tomato:16737095,turquoise:4251856,violet:15631086,wheat:16113331,white:16777215,whitesmoke:16119285,yellow:16776960,yellowgreen:10145074},Xn={h:0,s:0,l:0},ea={h:0,s:0,l:0};function $l(n,e,t){return t<0&&(t+=1),t>1&&(t-=1),t<1/6?n+(e-n)*6*t:t<1/2?e:t<2/3?n+(e-n)*6*(2/3-t):n}class Xe{constructor(e,t,i){return this.isColor=!0,this.r=1,this.g=1,this.b=1,this.set(e,t,i)}set(e,t,i){if(t===void 0&&i===void 0){const r=e;r&&r.isColor?this.copy(r):typeof r=="number"?this.setHex(r):typeof r=="string"&&this.setStyle(r)}else this.setRGB(e,t,i);return this}setScalar(e){return this.r=e,this.g=e,this.b=e,this}setHex(e,t=qt){return e=Math.floor(e),this.r=(e>>16&255)/255,this.g=(e>>8&255)/255,this.b=(e&255)/255,Ge.colorSpaceToWorking(this,t),this}setRGB(e,t,i,r=Ge.workingColorSpace){return this.r=e,this.g=t,this.b=i,Ge.colorSpaceToWorking(this,r),this}setHSL(e,t,i,r=Ge.workingColorSpace){if(e=v_(e,1),t=Be(t,0,1),i=Be(i,0,1),t===0)this.r=this.g=this.b=i;else{const s=i<=.5?i*(1+t):i+t-i*t,a=2*i-s;this.r=$l(a,s,e+1/3),this.g=$l(a,s,e),this.b=$l(a,s,e-1/3)}return Ge.colorSpaceToWorking(this,r),this}setStyle(e,t=qt){function i(s){s!==void 0&&parseFloat(s)<1&&console.warn("THREE.Color: Alpha component of "+e+" will be ignored.")}let r;if(r=/^(\w+)\(([^\)]*)\)/.exec(e)){let s;const a=r[1],o=r[2];switch(a){case"rgb":case"rgba":if(s=/^\s*(\d+)\s*,\s*(\d+)\s*,\s*(\d+)\s*(?:,\s*(\d*\.?\d+)\s*)?$/.exec(o))return i(s[4]),this.setRGB(Math.min(255,parseInt(s[1],10))/255,Math.min(255,parseInt(s[2],10))/255,Math.min(255,parseInt(s[3],10))/255,t);if(s=/^\s*(\d+)\%\s*,\s*(\d+)\%\s*,\s*(\d+)\%\s*(?:,\s*(\d*\.?\d+)\s*)?$/.exec(o))return i(s[4]),this.setRGB(Math.min(100,parseInt(s[1],10))/100,Math.min(100,parseInt(s[2],10))/100,Math.min(100,parseInt(s[3],10))/100,t);break;case"hsl":case"hsla":if(s=/^\s*(\d*\.?\d+)\s*,\s*(\d*\.?\d+)\%\s*,\s*(\d*\.?\d+)\%\s*(?:,\s*(\d*\.?\d+)\s*)?$/.exec(o))return i(s[4]),this.setHSL(parseFloat(s[1])/360,parseFloat(s[2])/100,parseFloat(s[3])/100,t);break;default:console.warn("THREE.Color: Unknown color model "+e)}}else if(r=/^\#([A-Fa-f\d]+)$/.exec(e)){const s=r[1],a=s.length;if(a===3)return this.setRGB(parseInt(s.charAt(0),16)/15,parseInt(s.charAt(1),16)/15,parseInt(s.charAt(2),16)/15,t);if(a===6)return this.setHex(parseInt(s,16),t);console.warn("THREE.Color: Invalid hex color "+e)}else if(e&&e.length>0)return this.setColorName(e,t);return this}setColorName(e,t=qt){const i=Td[e.toLowerCase()];return i!==void 0?this.setHex(i,t):console.warn("THREE.Color: Unknown color "+e),this}clone(){return new this.constructor(this.r,this.g,this.b)}copy(e){return this.r=e.r,this.g=e.g,this.b=e.b,this}copySRGBToLinear(e){return this.r=yn(e.r),this.g=yn(e.g),this.b=yn(e.b),this}copyLinearToSRGB(e){return this.r=qi(e.r),this.g=qi(e.g),this.b=qi(e.b),this}convertSRGBToLinear(){return this.copySRGBToLinear(this),this}convertLinearToSRGB(){return this.copyLinearToSRGB(this),this}getHex(e=qt){return Ge.workingToColorSpace(Rt.copy(this),e),Math.round(Be(Rt.r*255,0,255))*65536+Math.round(Be(Rt.g*255,0,255))*256+Math.round(Be(Rt.b*255,0,255))}getHexString(e=qt){return("000000"+this.getHex(e).toString(16)).slice(-6)}getHSL(e,t=Ge.workingColorSpace){Ge.workingToColorSpace(Rt.copy(this),t);const i=Rt.r,r=Rt.g,s=Rt.b,a=Math.max(i,r,s),o=Math.min(i,r,s);let l,c;const u=(o+a)/2;if(o===a)l=0,c=0;else{const d=a-o;switch(c=u<=.5?d/(a+o):d/(2-a-o),a){case i:l=(r-s)/d+(r<s?6:0);break;case r:l=(s-i)/d+2;break;case s:l=(i-r)/d+4;break}l/=6}return e.h=l,e.s=c,e.l=u,e}getRGB(e,t=Ge.workingColorSpace){return Ge.workingToColorSpace(Rt.copy(this),t),e.r=Rt.r,e.g=Rt.g,e.b=Rt.b,e}getStyle(e=qt){Ge.workingToColorSpace(Rt.copy(this),e);const t=Rt.r,i=Rt.g,r=Rt.b;return e!==qt?`color(${e} ${t.toFixed(3)} ${i.toFixed(3)} ${r.toFixed(3)})`:`rgb(${Math.round(t*255)},${Math.round(i*255)},${Math.round(r*255)})`}offsetHSL(e,t,i){return this.getHSL(Xn),this.setHSL(Xn.h+e,Xn.s+t,Xn.l+i)}add(e){return this.r+=e.r,this.g+=e.g,this.b+=e.b,this}addColors(e,t){return this.r=e.r+t.r,this.g=e.g+t.g,this.b=e.b+t.b,this}addScalar(e){return this.r+=e,this.g+=e,this.b+=e,this}sub(e){return this.r=Math.max(0,this.r-e.r),this.g=Math.max(0,this.g-e.g),this.b=Math.max(0,this.b-e.b),this}multiply(e){return this.r*=e.r,this.g*=e.g,this.b*=e.b,this}multiplyScalar(e){return this.r*=e,this.g*=e,this.b*=e,this}lerp(e,t){return this.r+=(e.r-this.r)*t,this.g+=(e.g-this.g)*t,this.b+=(e.b-this.b)*t,this}lerpColors(e,t,i){return this.r=e.r+(t.r-e.r)*i,this.g=e.g+(t.g-e.g)*i,this.b=e.b+(t.b-e.b)*i,this}lerpHSL(e,t){this.getHSL(Xn),e.getHSL(ea);const i=El(Xn.h,ea.h,t),r=El(Xn.s,ea.s,t),s=El(Xn.l,ea.l,t);return this.setHSL(i,r,s),this}setFromVector3(e){return this.r=e.x,this.g=e.y,this.b=e.z,this}applyMatrix3(e){const t=this.r,i=this.g,r=this.b,s=e.elements;return this.r=s[0]*t+s[3]*i+s[6]*r,this.g=s[1]*t+s[4]*i+s[7]*r,this.b=s[2]*t+s[5]*i+s[8]*r,this}equals(e){return e.r===this.r&&e.g===this.g&&e.b===this.b}fromArray(e,t=0){return this.r=e[t],this.g=e[t+1],this.b=e[t+2],this}toArray(e=[],t=0){return e[t]=this.r,e[t+1]=this.g,e[t+2]=this.b,e}fromBufferAttribute(e,t){return this.r=e.getX(t),this.g=e.getY(t),this.b=e.getZ(t),this}toJSON(){return this.getHex()}*[Symbol.iterator](){yield this.r,yield this.g,yield this.b}}const Rt=new Xe;Xe.NAMES=Td;let I_=0;class Vr extends ui{constructor(){super(),this.isMaterial=!0,Object.defineProperty(this,"id",{value:I_++}),this.uuid=Ir(),this.name="",this.type="Material",this.blending=Vi,this.side=On,this.vertexColors=!1,this.opacity=1,this.transparent=!1,this.alphaHash=!1,this.blendSrc=Po,this.blendDst=Do,this.blendEquation=ai,this.blendSrcAlpha=null,this.blendDstAlpha=null,this.blendEquationAlpha=null,this.blendColor=new Xe(0,0,0),this.blendAlpha=0,this.depthFunc=Gi,this.depthTest=!0,this.depthWrite=!0,this.stencilWriteMask=255,this.stencilFunc=ld,this.stencilRef=0,this.stencilFuncMask=255,this.stencilFail=Xi,this.stencilZFail=Xi,this.stencilZPass=Xi,this.stencilWrite=!1,this.clippingPlanes=null,this.clipIntersection=!1,this.clipShadows=!1,this.shadowSide=null,this.colorWrite=!0,this.precision=null,this.polygonOffset=!1,this.polygonOffsetFactor=0,this.polygonOffsetUnits=0,this.dithering=!1,this.alphaToCoverage=!1,this.premultipliedAlpha=!1,this.forceSinglePass=!1,this.allowOverride=!0,this.visible=!0,this.toneMapped=!0,this.userData={},this.version=0,this._alphaTest=0}get alphaTest(){return this._alphaTest}set alphaTest(e){this._alphaTest>0!=e>0&&this.version++,this._alphaTest=e}onBeforeRender(){}onBeforeCompile(){}customProgramCacheKey(){return this.onBeforeCompile.toString()}setValues(e){if(e!==void 0)for(const t in e){const i=e[t];if(i===void 0){console.warn(`THREE.Material: parameter '${t}' has value of undefined.`);continue}const r=this[t];if(r===void 0){console.warn(`THREE.Material: '${t}' is not a property of THREE.${this.type}.`);continue}r&&r.isColor?r.set(i):r&&r.isVector3&&i&&i.isVector3?r.copy(i):this[t]=i}}toJSON(e){const t=e===void 0||typeof e=="string";t&&(e={textures:{},images:{}});const i={metadata:{version:4.7,type:"Material",generator:"Material.toJSON"}};i.uuid=this.uuid,i.type=this.type,this.name!==""&&(i.name=this.name),this.color&&this.color.isColor&&(i.color=this.color.getHex()),this.roughness!==void 0&&(i.roughness=this.roughness),this.metalness!==void 0&&(i.metalness=this.metalness),this.sheen!==void 0&&(i.sheen=this.sheen),this.sheenColor&&this.sheenColor.isColor&&(i.sheenColor=this.sheenColor.getHex()),this.sheenRoughness!==void 0&&(i.sheenRoughness=this.sheenRoughness),this.emissive&&this.emissive.isColor&&(i.emissive=this.emissive.getHex()),this.emissiveIntensity!==void 0&&this.emissiveIntensity!==1&&(i.emissiveIntensity=this.emissiveIntensity),this.specular&&this.specular.isColor&&(i.specular=this.specular.getHex()),this.specularIntensity!==void 0&&(i.specularIntensity=this.specularIntensity),this.specularColor&&this.specularColor.isColor&&(i.specularColor=this.specularColor.getHex()),this.shininess!==void 0&&(i.shininess=this.shininess),this.clearcoat!==void 0&&(i.clearcoat=this.clearcoat),this.clearcoatRoughness!==void 0&&(i.clearcoatRoughness=this.clearcoatRoughness),this.clearcoatMap&&this.clearcoatMap.isTexture&&(i.clearcoatMap=this.clearcoatMap.toJSON(e).uuid),this.clearcoatRoughnessMap&&this.clearcoatRoughnessMap.isTexture&&(i.clearcoatRoughnessMap=this.clearcoatRoughnessMap.toJSON(e).uuid),this.clearcoatNormalMap&&this.clearcoatNormalMap.isTexture&&(i.clearcoatNormalMap=this.clearcoatNormalMap.toJSON(e).uuid,i.clearcoatNormalScale=this.clearcoatNormalScale.toArray()),this.sheenColorMap&&this.sheenColorMap.isTexture&&(i.sheenColorMap=this.sheenColorMap.toJSON(e).uuid),this.sheenRoughnessMap&&this.sheenRoughnessMap.isTexture&&(i.sheenRoughnessMap=this.sheenRoughnessMap.toJSON(e).uuid),this.dispersion!==void 0&&(i.dispersion=this.dispersion),this.iridescence!==void 0&&(i.iridescence=this.iridescence),this.iridescenceIOR!==void 0&&(i.iridescenceIOR=this.iridescenceIOR),this.iridescenceThicknessRange!==void 0&&(i.iridescenceThicknessRange=this.iridescenceThicknessRange),this.iridescenceMap&&this.iridescenceMap.isTexture&&(i.iridescenceMap=this.iridescenceMap.toJSON(e).uuid),this.iridescenceThicknessMap&&this.iridescenceThicknessMap.isTexture&&(i.iridescenceThicknessMap=this.iridescenceThicknessMap.toJSON(e).uuid),this.anisotropy!==void 0&&(i.anisotropy=this.anisotropy),this.anisotropyRotation!==void 0&&(i.anisotropyRotation=this.anisotropyRotation),this.anisotropyMap&&this.anisotropyMap.isTexture&&(i.anisotropyMap=this.anisotropyMap.toJSON(e).uuid),this.map&&this.map.isTexture&&(i.map=this.map.toJSON(e).uuid),this.matcap&&this.matcap.isTexture&&(i.matcap=this.matcap.toJSON(e).uuid),this.alphaMap&&this.alphaMap.isTexture&&(i.alphaMap=this.alphaMap.toJSON(e).uuid),this.lightMap&&this.lightMap.isTexture&&(i.lightMap=this.lightMap.toJSON(e).uuid,i.lightMapIntensity=this.lightMapIntensity),this.aoMap&&this.aoMap.isTexture&&(i.aoMap=this.aoMap.toJSON(e).uuid,i.aoMapIntensity=this.aoMapIntensity),this.bumpMap&&this.bumpMap.isTexture&&(i.bumpMap=this.bumpMap.toJSON(e).uuid,i.bumpScale=this.bumpScale),this.normalMap&&this.normalMap.isTexture&&(i.normalMap=this.normalMap.toJSON(e).uuid,i.normalMapType=this.normalMapType,i.normalScale=this.normalScale.toArray()),this.displacementMap&&this.displacementMap.isTexture&&(i.displacementMap=this.displacementMap.toJSON(e).uuid,i.displacementScale=this.displacementScale,i.displacementBias=this.displacementBias),this.roughnessMap&&this.roughnessMap.isTexture&&(i.roughnessMap=this.roughnessMap.toJSON(e).uuid),this.metalnessMap&&this.metalnessMap.isTexture&&(i.metalnessMap=this.metalnessMap.toJSON(e).uuid),this.emissiveMap&&this.emissiveMap.isTexture&&(i.emissiveMap=this.emissiveMap.toJSON(e).uuid),this.specularMap&&this.specularMap.isTexture&&(i.specularMap=this.specularMap.toJSON(e).uuid),this.specularIntensityMap&&this.specularIntensityMap.isTexture&&(i.specularIntensityMap=this.specularIntensityMap.toJSON(e).uuid),this.specularColorMap&&this.specularColorMap.isTexture&&(i.specularColorMap=this.specularColorMap.toJSON(e).uuid),this.envMap&&this.envMap.isTexture&&(i.envMap=this.envMap.toJSON(e).uuid,this.combine!==void 0&&(i.combine=this.combine)),this.envMapRotation!==void 0&&(i.envMapRotation=this.envMapRotation.toArray()),this.envMapIntensity!==void 0&&(i.envMapIntensity=this.envMapIntensity),this.reflectivity!==void 0&&(i.reflectivity=this.reflectivity),this.refractionRatio!==void 0&&(i.refractionRatio=this.refractionRatio),this.gradientMap&&this.gradientMap.isTexture&&(i.gradientMap=this.gradientMap.toJSON(e).uuid),this.transmission!==void 0&&(i.transmission=this.transmission),this.transmissionMap&&this.transmissionMap.isTexture&&(i.transmissionMap=this.transmissionMap.toJSON(e).uuid),this.thickness!==void 0&&(i.thickness=this.thickness),this.thicknessMap&&this.thicknessMap.isTexture&&(i.thicknessMap=this.thicknessMap.toJSON(e).uuid),this.attenuationDistance!==void 0&&this.attenuationDistance!==1/0&&(i.attenuationDistance=this.attenuationDistance),this.attenuationColor!==void 0&&(i.attenuationColor=this.attenuationColor.getHex()),this.size!==void 0&&(i.size=this.size),this.shadowSide!==null&&(i.shadowSide=this.shadowSide),this.sizeAttenuation!==void 0&&(i.sizeAttenuation=this.sizeAttenuation),this.blending!==Vi&&(i.blending=this.blending),this.side!==On&&(i.side=this.side),this.vertexColors===!0&&(i.vertexColors=!0),this.opacity<1&&(i.opacity=this.opacity),this.transparent===!0&&(i.transparent=!0),this.blendSrc!==Po&&(i.blendSrc=this.blendSrc),this.blendDst!==Do&&(i.blendDst=this.blendDst),this.blendEquation!==ai&&(i.blendEquation=this.blendEquation),this.blendSrcAlpha!==null&&(i.blendSrcAlpha=this.blendSrcAlpha),this.blendDstAlpha!==null&&(i.blendDstAlpha=this.blendDstAlpha),this.blendEquationAlpha!==null&&(i.blendEquationAlpha=this.blendEquationAlpha),this.blendColor&&this.blendColor.isColor&&(i.blendColor=this.blendColor.getHex()),this.blendAlpha!==0&&(i.blendAlpha=this.blendAlpha),this.depthFunc!==Gi&&(i.depthFunc=this.depthFunc),this.depthTest===!1&&(i.depthTest=this.depthTest),this.depthWrite===!1&&(i.depthWrite=this.depthWrite),this.colorWrite===!1&&(i.colorWrite=this.colorWrite),this.stencilWriteMask!==255&&(i.stencilWriteMask=this.stencilWriteMask),this.stencilFunc!==ld&&(i.stencilFunc=this.stencilFunc),this.stencilRef!==0&&(i.stencilRef=this.stencilRef),this.stencilFuncMask!==255&&(i.stencilFuncMask=this.stencilFuncMask),this.stencilFail!==Xi&&(i.stencilFail=this.stencilFail),this.stencilZFail!==Xi&&(i.stencilZFail=this.stencilZFail),this.stencilZPass!==Xi&&(i.stencilZPass=this.stencilZPass),this.stencilWrite===!0&&(i.stencilWrite=this.stencilWrite),this.rotation!==void 0&&this.rotation!==0&&(i.rotation=this.rotation),this.polygonOffset===!0&&(i.polygonOffset=!0),this.polygonOffsetFactor!==0&&(i.polygonOffsetFactor=this.polygonOffsetFactor),this.polygonOffsetUnits!==0&&(i.polygonOffsetUnits=this.polygonOffsetUnits),this.linewidth!==void 0&&this.linewidth!==1&&(i.linewidth=this.linewidth),this.dashSize!==void 0&&(i.dashSize=this.dashSize),this.gapSize!==void 0&&(i.gapSize=this.gapSize),this.scale!==void 0&&(i.scale=this.scale),this.dithering===!0&&(i.dithering=!0),this.alphaTest>0&&(i.alphaTest=this.alphaTest),this.alphaHash===!0&&(i.alphaHash=!0),this.alphaToCoverage===!0&&(i.alphaToCoverage=!0),this.premultipliedAlpha===!0&&(i.premultipliedAlpha=!0),this.forceSinglePass===!0&&(i.forceSinglePass=!0),this.wireframe===!0&&(i.wireframe=!0),this.wireframeLinewidth>1&&(i.wireframeLinewidth=this.wireframeLinewidth),this.wireframeLinecap!=="round"&&(i.wireframeLinecap=this.wireframeLinecap),this.wireframeLinejoin!=="round"&&(i.wireframeLinejoin=this.wireframeLinejoin),this.flatShading===!0&&(i.flatShading=!0),this.visible===!1&&(i.visible=!1),this.toneMapped===!1&&(i.toneMapped=!1),this.fog===!1&&(i.fog=!1),Object.keys(this.userData).length>0&&(i.userData=this.userData);function r(s){const a=[];for(const o in s){const l=s[o];delete l.metadata,a.push(l)}return a}if(t){const s=r(e.textures),a=r(e.images);s.length>0&&(i.textures=s),a.length>0&&(i.images=a)}return i}clone(){return new this.constructor().copy(this)}copy(e){this.name=e.name,this.blending=e.blending,this.side=e.side,this.vertexColors=e.vertexColors,this.opacity=e.opacity,this.transparent=e.transparent,this.blendSrc=e.blendSrc,this.blendDst=e.blendDst,this.blendEquation=e.blendEquation,this.blendSrcAlpha=e.blendSrcAlpha,this.blendDstAlpha=e.blendDstAlpha,this.blendEquationAlpha=e.blendEquationAlpha,this.blendColor.copy(e.blendColor),this.blendAlpha=e.blendAlpha,this.depthFunc=e.depthFunc,this.depthTest=e.depthTest,this.depthWrite=e.depthWrite,this.stencilWriteMask=e.stencilWriteMask,this.stencilFunc=e.stencilFunc,this.stencilRef=e.stencilRef,this.stencilFuncMask=e.stencilFuncMask,this.stencilFail=e.stencilFail,this.stencilZFail=e.stencilZFail,this.stencilZPass=e.stencilZPass,this.stencilWrite=e.stencilWrite;const t=e.clippingPlanes;let i=null;if(t!==null){const r=t.length;i=new Array(r);for(let s=0;s!==r;++s)i[s]=t[s].clone()}return this.clippingPlanes=i,this.clipIntersection=e.clipIntersection,this.clipShadows=e.clipShadows,this.shadowSide=e.shadowSide,this.colorWrite=e.colorWrite,this.precision=e.precision,this.polygonOffset=e.polygonOffset,this.polygonOffsetFactor=e.polygonOffsetFactor,this.polygonOffsetUnits=e.polygonOffsetUnits,this.dithering=e.dithering,this.alphaTest=e.alphaTest,this.alphaHash=e.alphaHash,this.alphaToCoverage=e.alphaToCoverage,this.premultipliedAlpha=e.premultipliedAlpha,this.forceSinglePass=e.forceSinglePass,this.visible=e.visible,this.toneMapped=e.toneMapped,this.userData=JSON.parse(JSON.stringify(e.userData)),this}dispose(){this.dispatchEvent({type:"dispose"})}set needsUpdate(e){e===!0&&this.version++}}class ir extends Vr{constructor(e){super(),this.isMeshBasicMaterial=!0,this.type="MeshBasicMaterial",this.color=new Xe(16777215),this.map=null,this.lightMap=null,this.lightMapIntensity=1,this.aoMap=null,this.aoMapIntensity=1,this.specularMap=null,this.alphaMap=null,this.envMap=null,this.envMapRotation=new An,this.combine=Ju,this.reflectivity=1,this.refractionRatio=.98,this.wireframe=!1,this.wireframeLinewidth=1,this.wireframeLinecap="round",this.wireframeLinejoin="round",this.fog=!0,this.setValues(e)}copy(e){return super.copy(e),this.color.copy(e.color),this.map=e.map,this.lightMap=e.lightMap,this.lightMapIntensity=e.lightMapIntensity,this.aoMap=e.aoMap,this.aoMapIntensity=e.aoMapIntensity,this.specularMap=e.specularMap,this.alphaMap=e.alphaMap,this.envMap=e.envMap,this.envMapRotation.copy(e.envMapRotation),this.combine=e.combine,this.reflectivity=e.reflectivity,this.refractionRatio=e.refractionRatio,this.wireframe=e.wireframe,this.wireframeLinewidth=e.wireframeLinewidth,this.wireframeLinecap=e.wireframeLinecap,this.wireframeLinejoin=e.wireframeLinejoin,this.fog=e.fog,this}}const mt=new O,ta=new ke;let k_=0;class yt{constructor(e,t,i=!1){if(Array.isArray(e))throw new TypeError("THREE.BufferAttribute: array should be a Typed Array.");this.isBufferAttribute=!0,Object.defineProperty(this,"id",{value:k_++}),this.name="",this.array=e,this.itemSize=t,this.count=e!==void 0?e.length/t:0,this.normalized=i,this.usage=hd,this.updateRanges=[],this.gpuType=wn,this.version=0}onUploadCallback(){}set needsUpdate(e){e===!0&&this.version++}setUsage(e){return this.usage=e,this}addUpdateRange(e,t){this.updateRanges.push({start:e,count:t})}clearUpdateRanges(){this.updateRanges.length=0}copy(e){return this.name=e.name,this.array=new e.array.constructor(e.array),this.itemSize=e.itemSize,this.count=e.count,this.normalized=e.normalized,this.usage=e.usage,this.gpuType=e.gpuType,this}copyAt(e,t,i){e*=this.itemSize,i*=t.itemSize;for(let r=0,s=this.itemSize;r<s;r++)this.array[e+r]=t.array[i+r];return this}copyArray(e){return this.array.set(e),this}applyMatrix3(e){if(this.itemSize===2)for(let t=0,i=this.count;t<i;t++)ta.fromBufferAttribute(this,t),ta.applyMatrix3(e),this.setXY(t,ta.x,ta.y);else if(this.itemSize===3)for(let t=0,i=this.count;t<i;t++)mt.fromBufferAttribute(this,t),mt.applyMatrix3(e),this.setXYZ(t,mt.x,mt.y,mt.z);return this}applyMatrix4(e){for(let t=0,i=this.count;t<i;t++)mt.fromBufferAttribute(this,t),mt.applyMatrix4(e),this.setXYZ(t,mt.x,mt.y,mt.z);return this}applyNormalMatrix(e){for(let t=0,i=this.count;t<i;t++)mt.fromBufferAttribute(this,t),mt.applyNormalMatrix(e),this.setXYZ(t,mt.x,mt.y,mt.z);return this}transformDirection(e){for(let t=0,i=this.count;t<i;t++)mt.fromBufferAttribute(this,t),mt.transformDirection(e),this.setXYZ(t,mt.x,mt.y,mt.z);return this}set(e,t=0){return this.array.set(e,t),this}getComponent(e,t){let i=this.array[e*this.itemSize+t];return this.normalized&&(i=kr(i,this.array)),i}setComponent(e,t,i){return this.normalized&&(i=kt(i,this.array)),this.array[e*this.itemSize+t]=i,this}getX(e){let t=this.array[e*this.itemSize];return this.normalized&&(t=kr(t,this.array)),t}setX(e,t){return this.normalized&&(t=kt(t,this.array)),this.array[e*this.itemSize]=t,this}getY(e){let t=this.array[e*this.itemSize+1];return this.normalized&&(t=kr(t,this.array)),t}setY(e,t){return this.normalized&&(t=kt(t,this.array)),this.array[e*this.itemSize+1]=t,this}getZ(e){let t=this.array[e*this.itemSize+2];return this.normalized&&(t=kr(t,this.array)),t}setZ(e,t){return this.normalized&&(t=kt(t,this.array)),this.array[e*this.itemSize+2]=t,this}getW(e){let t=this.array[e*this.itemSize+3];return this.normalized&&(t=kr(t,this.array)),t}setW(e,t){return this.normalized&&(t=kt(t,this.array)),this.array[e*this.itemSize+3]=t,this}setXY(e,t,i){return e*=this.itemSize,this.normalized&&(t=kt(t,this.array),i=kt(i,this.array)),this.array[e+0]=t,this.array[e+1]=i,this}setXYZ(e,t,i,r){return e*=this.itemSize,this.normalized&&(t=kt(t,this.array),i=kt(i,this.array),r=kt(r,this.array)),this.array[e+0]=t,this.array[e+1]=i,this.array[e+2]=r,this}setXYZW(e,t,i,r,s){return e*=this.itemSize,this.normalized&&(t=kt(t,this.array),i=kt(i,this.array),r=kt(r,this.array),s=kt(s,this.array)),this.array[e+0]=t,this.array[e+1]=i,this.array[e+2]=r,this.array[e+3]=s,this}onUpload(e){return this.onUploadCallback=e,this}clone(){return new this.constructor(this.array,this.itemSize).copy(this)}toJSON(){const e={itemSize:this.itemSize,type:this.array.constructor.name,array:Array.from(this.array),normalized:this.normalized};return this.name!==""&&(e.name=this.name),this.usage!==hd&&(e.usage=this.usage),e}}class Ad extends yt{constructor(e,t,i){super(new Uint16Array(e),t,i)}}class Rd extends yt{constructor(e,t,i){super(new Uint32Array(e),t,i)}}class Dn extends yt{constructor(e,t,i){super(new Float32Array(e),t,i)}}let F_=0;const Yt=new dt,Xl=new Ft,rr=new O,Gt=new Or,Gr=new Or,bt=new O;class cn extends ui{constructor(){super(),this.isBufferGeometry=!0,Object.defineProperty(this,"id",{value:F_++}),this.uuid=Ir(),this.name="",this.type="BufferGeometry",this.index=null,this.indirect=null,this.attributes={},this.morphAttributes={},this.morphTargetsRelative=!1,this.groups=[],this.boundingBox=null,this.boundingSphere=null,this.drawRange={start:0,count:1/0},this.userData={}}getIndex(){return this.index}setIndex(e){return Array.isArray(e)?this.index=new(fd(e)?Rd:Ad)(e,1):this.index=e,this}setIndirect(e){return this.indirect=e,this}getIndirect(){return this.indirect}getAttribute(e){return this.attributes[e]}setAttribute(e,t){return this.attributes[e]=t,this}deleteAttribute(e){return delete this.attributes[e],this}hasAttribute(e){return this.attributes[e]!==void 0}addGroup(e,t,i=0){this.groups.push({start:e,count:t,materialIndex:i})}clearGroups(){this.groups=[]}setDrawRange(e,t){this.drawRange.start=e,this.drawRange.count=t}applyMatrix4(e){const t=this.attributes.position;t!==void 0&&(t.applyMatrix4(e),t.needsUpdate=!0);const i=this.attributes.normal;if(i!==void 0){const s=new Ue().getNormalMatrix(e);i.applyNormalMatrix(s),i.needsUpdate=!0}const r=this.attributes.tangent;return r!==void 0&&(r.transformDirection(e),r.needsUpdate=!0),this.boundingBox!==null&&this.computeBoundingBox(),this.boundingSphere!==null&&this.computeBoundingSphere(),this}applyQuaternion(e){return Yt.makeRotationFromQuaternion(e),this.applyMatrix4(Yt),this}rotateX(e){return Yt.makeRotationX(e),this.applyMatrix4(Yt),this}rotateY(e){return Yt.makeRotationY(e),this.applyMatrix4(Yt),this}rotateZ(e){return Yt.makeRotationZ(e),this.applyMatrix4(Yt),this}translate(e,t,i){return Yt.makeTranslation(e,t,i),this.applyMatrix4(Yt),this}scale(e,t,i){return Yt.makeScale(e,t,i),this.applyMatrix4(Yt),this}lookAt(e){return Xl.lookAt(e),Xl.updateMatrix(),this.applyMatrix4(Xl.matrix),this}center(){return this.computeBoundingBox(),this.boundingBox.getCenter(rr).negate(),this.translate(rr.x,rr.y,rr.z),this}setFromPoints(e){const t=this.getAttribute("position");if(t===void 0){const i=[];for(let r=0,s=e.length;r<s;r++){const a=e[r];i.push(a.x,a.y,a.z||0)}this.setAttribute("position",new Dn(i,3))}else{const i=Math.min(e.length,t.count);for(let r=0;r<i;r++){const s=e[r];t.setXYZ(r,s.x,s.y,s.z||0)}e.length>t.count&&console.warn("THREE.BufferGeometry: Buffer size too small for points data. Use .dispose() and create a new geometry."),t.needsUpdate=!0}return this}computeBoundingBox(){this.boundingBox===null&&(this.boundingBox=new Or);const e=this.attributes.position,t=this.morphAttributes.position;if(e&&e.isGLBufferAttribute){console.error("THREE.BufferGeometry.computeBoundingBox(): GLBufferAttribute requires a manual bounding box.",this),this.boundingBox.set(new O(-1/0,-1/0,-1/0),new O(1/0,1/0,1/0));return}if(e!==void 0){if(this.boundingBox.setFromBufferAttribute(e),t)for(let i=0,r=t.length;i<r;i++){const s=t[i];Gt.setFromBufferAttribute(s),this.morphTargetsRelative?(bt.addVectors(this.boundingBox.min,Gt.min),this.boundingBox.expandByPoint(bt),bt.addVectors(this.boundingBox.max,Gt.max),this.boundingBox.expandByPoint(bt)):(this.boundingBox.expandByPoint(Gt.min),this.boundingBox.expandByPoint(Gt.max))}}else this.boundingBox.makeEmpty();(isNaN(this.boundingBox.min.x)||isNaN(this.boundingBox.min.y)||isNaN(this.boundingBox.min.z))&&console.error('THREE.BufferGeometry.computeBoundingBox(): Computed min/max have NaN values. The "position" attribute is likely to have NaN values.',this)}computeBoundingSphere(){this.boundingSphere===null&&(this.boundingSphere=new Ys);const e=this.attributes.position,t=this.morphAttributes.position;if(e&&e.isGLBufferAttribute){console.error("THREE.BufferGeometry.computeBoundingSphere(): GLBufferAttribute requires a manual bounding sphere.",this),this.boundingSphere.set(new O,1/0);return}if(e){const i=this.boundingSphere.center;if(Gt.setFromBufferAttribute(e),t)for(let s=0,a=t.length;s<a;s++){const o=t[s];Gr.setFromBufferAttribute(o),this.morphTargetsRelative?(bt.addVectors(Gt.min,Gr.min),Gt.expandByPoint(bt),bt.addVectors(Gt.max,Gr.max),Gt.expandByPoint(bt)):(Gt.expandByPoint(Gr.min),Gt.expandByPoint(Gr.max))}Gt.getCenter(i);let r=0;for(let s=0,a=e.count;s<a;s++)bt.fromBufferAttribute(e,s),r=Math.max(r,i.distanceToSquared(bt));if(t)for(let s=0,a=t.length;s<a;s++){const o=t[s],l=this.morphTargetsRelative;for(let c=0,u=o.count;c<u;c++)bt.fromBufferAttribute(o,c),l&&(rr.fromBufferAttribute(e,c),bt.add(rr)),r=Math.max(r,i.distanceToSquared(bt))}this.boundingSphere.radius=Math.sqrt(r),isNaN(this.boundingSphere.radius)&&console.error('THREE.BufferGeometry.computeBoundingSphere(): Computed radius is NaN. The "position" attribute is likely to have NaN values.',this)}}computeTangents(){const e=this.index,t=this.attributes;if(e===null||t.position===void 0||t.normal===void 0||t.uv===void 0){console.error("THREE.BufferGeometry: .computeTangents() failed. Missing required attributes (index, position, normal or uv)");return}const i=t.position,r=t.normal,s=t.uv;this.hasAttribute("tangent")===!1&&this.setAttribute("tangent",new yt(new Float32Array(4*i.count),4));const a=this.getAttribute("tangent"),o=[],l=[];for(let F=0;F<i.count;F++)o[F]=new O,l[F]=new O;const c=new O,u=new O,d=new O,h=new ke,p=new ke,g=new ke,_=new O,m=new O;function f(F,w,b){c.fromBufferAttribute(i,F),u.fromBufferAttribute(i,w),d.fromBufferAttribute(i,b),h.fromBufferAttribute(s,F),p.fromBufferAttribute(s,w),g.fromBufferAttribute(s,b),u.sub(c),d.sub(c),p.sub(h),g.sub(h);const P=1/(p.x*g.y-g.x*p.y);isFinite(P)&&(_.copy(u).multiplyScalar(g.y).addScaledVector(d,-p.y).multiplyScalar(P),m.copy(d).multiplyScalar(p.x).addScaledVector(u,-g.x).multiplyScalar(P),o[F].add(_),o[w].add(_),o[b].add(_),l[F].add(m),l[w].add(m),l[b].add(m))}let E=this.groups;E.length===0&&(E=[{start:0,count:e.count}]);for(let F=0,w=E.length;F<w;++F){const b=E[F],P=b.start,k=b.count;for(let G=P,W=P+k;G<W;G+=3)f(e.getX(G+0),e.getX(G+1),e.getX(G+2))}const y=new O,M=new O,C=new O,A=new O;function D(F){C.fromBufferAttribute(r,F),A.copy(C);const w=o[F];y.copy(w),y.sub(C.multiplyScalar(C.dot(w))).normalize(),M.crossVectors(A,w);const P=M.dot(l[F])<0?-1:1;a.setXYZW(F,y.x,y.y,y.z,P)}for(let F=0,w=E.length;F<w;++F){const b=E[F],P=b.start,k=b.count;for(let G=P,W=P+k;G<W;G+=3)D(e.getX(G+0)),D(e.getX(G+1)),D(e.getX(G+2))}}computeVertexNormals(){const e=this.index,t=this.getAttribute("position");if(t!==void 0){let i=this.getAttribute("normal");if(i===void 0)i=new yt(new Float32Array(t.count*3),3),this.setAttribute("normal",i);else for(let h=0,p=i.count;h<p;h++)i.setXYZ(h,0,0,0);const r=new O,s=new O,a=new O,o=new O,l=new O,c=new O,u=new O,d=new O;if(e)for(let h=0,p=e.count;h<p;h+=3){const g=e.getX(h+0),_=e.getX(h+1),m=e.getX(h+2);r.fromBufferAttribute(t,g),s.fromBufferAttribute(t,_),a.fromBufferAttribute(t,m),u.subVectors(a,s),d.subVectors(r,s),u.cross(d),o.fromBufferAttribute(i,g),l.fromBufferAttribute(i,_),c.fromBufferAttribute(i,m),o.add(u),l.add(u),c.add(u),i.setXYZ(g,o.x,o.y,o.z),i.setXYZ(_,l.x,l.y,l.z),i.setXYZ(m,c.x,c.y,c.z)}else for(let h=0,p=t.count;h<p;h+=3)r.fromBufferAttribute(t,h+0),s.fromBufferAttribute(t,h+1),a.fromBufferAttribute(t,h+2),u.subVectors(a,s),d.subVectors(r,s),u.cross(d),i.setXYZ(h+0,u.x,u.y,u.z),i.setXYZ(h+1,u.x,u.y,u.z),i.setXYZ(h+2,u.x,u.y,u.z);this.normalizeNormals(),i.needsUpdate=!0}}normalizeNormals(){const e=this.attributes.normal;for(let t=0,i=e.count;t<i;t++)bt.fromBufferAttribute(e,t),bt.normalize(),e.setXYZ(t,bt.x,bt.y,bt.z)}toNonIndexed(){function e(o,l){const c=o.array,u=o.itemSize,d=o.normalized,h=new c.constructor(l.length*u);let p=0,g=0;for(let _=0,m=l.length;_<m;_++){o.isInterleavedBufferAttribute?p=l[_]*o.data.stride+o.offset:p=l[_]*u;for(let f=0;f<u;f++)h[g++]=c[p++]}return new yt(h,u,d)}if(this.index===null)return console.warn("THREE.BufferGeometry.toNonIndexed(): BufferGeometry is already non-indexed."),this;const t=new cn,i=this.index.array,r=this.attributes;for(const o in r){const l=r[o],c=e(l,i);t.setAttribute(o,c)}const s=this.morphAttributes;for(const o in s){const l=[],c=s[o];for(let u=0,d=c.length;u<d;u++){const h=c[u],p=e(h,i);l.push(p)}t.morphAttributes[o]=l}t.morphTargetsRelative=this.morphTargetsRelative;const a=this.groups;for(let o=0,l=a.length;o<l;o++){const c=a[o];t.addGroup(c.start,c.count,c.materialIndex)}return t}toJSON(){const e={metadata:{version:4.7,type:"BufferGeometry",generator:"BufferGeometry.toJSON"}};if(e.uuid=this.uuid,e.type=this.type,this.name!==""&&(e.name=this.name),Object.keys(this.userData).length>0&&(e.userData=this.userData),this.parameters!==void 0){const l=this.parameters;for(const c in l)l[c]!==void 0&&(e[c]=l[c]);return e}e.data={attributes:{}};const t=this.index;t!==null&&(e.data.index={type:t.array.constructor.name,array:Array.prototype.slice.call(t.array)});const i=this.attributes;for(const l in i){const c=i[l];e.data.attributes[l]=c.toJSON(e.data)}const r={};let s=!1;for(const l in this.morphAttributes){const c=this.morphAttributes[l],u=[];for(let d=0,h=c.length;d<h;d++){const p=c[d];u.push(p.toJSON(e.data))}u.length>0&&(r[l]=u,s=!0)}s&&(e.data.morphAttributes=r,e.data.morphTargetsRelative=this.morphTargetsRelative);const a=this.groups;a.length>0&&(e.data.groups=JSON.parse(JSON.stringify(a)));const o=this.boundingSphere;return o!==null&&(e.data.boundingSphere=o.toJSON()),e}clone(){return new this.constructor().copy(this)}copy(e){this.index=null,this.attributes={},this.morphAttributes={},this.groups=[],this.boundingBox=null,this.boundingSphere=null;const t={};this.name=e.name;const i=e.index;i!==null&&this.setIndex(i.clone());const r=e.attributes;for(const c in r){const u=r[c];this.setAttribute(c,u.clone(t))}const s=e.morphAttributes;for(const c in s){const u=[],d=s[c];for(let h=0,p=d.length;h<p;h++)u.push(d[h].clone(t));this.morphAttributes[c]=u}this.morphTargetsRelative=e.morphTargetsRelative;const a=e.groups;for(let c=0,u=a.length;c<u;c++){const d=a[c];this.addGroup(d.start,d.count,d.materialIndex)}const o=e.boundingBox;o!==null&&(this.boundingBox=o.clone());const l=e.boundingSphere;return l!==null&&(this.boundingSphere=l.clone()),this.drawRange.start=e.drawRange.start,this.drawRange.count=e.drawRange.count,this.userData=e.userData,this}dispose(){this.dispatchEvent({type:"dispose"})}}const Cd=new dt,gi=new Ks,na=new Ys,Pd=new O,ia=new O,ra=new O,sa=new O,ql=new O,aa=new O,Dd=new O,oa=new O;class hn extends Ft{constructor(e=new cn,t=new ir){super(),this.isMesh=!0,this.type="Mesh",this.geometry=e,this.material=t,this.morphTargetDictionary=void 0,this.morphTargetInfluences=void 0,this.count=1,this.updateMorphTargets()}copy(e,t){return super.copy(e,t),e.morphTargetInfluences!==void 0&&(this.morphTargetInfluences=e.morphTargetInfluences.slice()),e.morphTargetDictionary!==void 0&&(this.morphTargetDictionary=Object.assign({},e.morphTargetDictionary)),this.material=Array.isArray(e.material)?e.material.slice():e.material,this.geometry=e.geometry,this}updateMorphTargets(){const t=this.geometry.morphAttributes,i=Object.keys(t);if(i.length>0){const r=t[i[0]];if(r!==void 0){this.morphTargetInfluences=[],this.morphTargetDictionary={};for(let s=0,a=r.length;s<a;s++){const o=r[s].name||String(s);this.morphTargetInfluences.push(0),this.morphTargetDictionary[o]=s}}}}getVertexPosition(e,t){const i=this.geometry,r=i.attributes.position,s=i.morphAttributes.position,a=i.morphTargetsRelative;t.fromBufferAttribute(r,e);const o=this.morphTargetInfluences;if(s&&o){aa.set(0,0,0);for(let l=0,c=s.length;l<c;l++){const u=o[l],d=s[l];u!==0&&(ql.fromBufferAttribute(d,e),a?aa.addScaledVector(ql,u):aa.addScaledVector(ql.sub(t),u))}t.add(aa)}return t}raycast(e,t){const i=this.geometry,r=this.material,s=this.matrixWorld;r!==void 0&&(i.boundingSphere===null&&i.computeBoundingSphere(),na.copy(i.boundingSphere),na.applyMatrix4(s),gi.copy(e.ray).recast(e.near),!(na.containsPoint(gi.origin)===!1&&(gi.intersectSphere(na,Pd)===null||gi.origin.distanceToSquared(Pd)>(e.far-e.near)**2))&&(Cd.copy(s).invert(),gi.copy(e.ray).applyMatrix4(Cd),!(i.boundingBox!==null&&gi.intersectsBox(i.boundingBox)===!1)&&this._computeIntersections(e,t,gi)))}_computeIntersections(e,t,i){let r;const s=this.geometry,a=this.material,o=s.index,l=s.attributes.position,c=s.attributes.uv,u=s.attributes.uv1,d=s.attributes.normal,h=s.groups,p=s.drawRange;if(o!==null)if(Array.isArray(a))for(let g=0,_=h.length;g<_;g++){const m=h[g],f=a[m.materialIndex],E=Math.max(m.start,p.start),y=Math.min(o.count,Math.min(m.start+m.count,p.start+p.count));for(let M=E,C=y;M<C;M+=3){const A=o.getX(M),D=o.getX(M+1),F=o.getX(M+2);r=la(this,f,e,i,c,u,d,A,D,F),r&&(r.faceIndex=Math.floor(M/3),r.face.materialIndex=m.materialIndex,t.push(r))}}else{const g=Math.max(0,p.start),_=Math.min(o.count,p.start+p.count);for(let m=g,f=_;m<f;m+=3){const E=o.getX(m),y=o.getX(m+1),M=o.getX(m+2);r=la(this,a,e,i,c,u,d,E,y,M),r&&(r.faceIndex=Math.floor(m/3),t.push(r))}}else if(l!==void 0)if(Array.isArray(a))for(let g=0,_=h.length;g<_;g++){const m=h[g],f=a[m.materialIndex],E=Math.max(m.start,p.start),y=Math.min(l.count,Math.min(m.start+m.count,p.start+p.count));for(let M=E,C=y;M<C;M+=3){const A=M,D=M+1,F=M+2;r=la(this,f,e,i,c,u,d,A,D,F),r&&(r.faceIndex=Math.floor(M/3),r.face.materialIndex=m.materialIndex,t.push(r))}}else{const g=Math.max(0,p.start),_=Math.min(l.count,p.start+p.count);for(let m=g,f=_;m<f;m+=3){const E=m,y=m+1,M=m+2;r=la(this,a,e,i,c,u,d,E,y,M),r&&(r.faceIndex=Math.floor(m/3),t.push(r))}}}}function O_(n,e,t,i,r,s,a,o){let l;if(e.side===It?l=i.intersectTriangle(a,s,r,!0,o):l=i.intersectTriangle(r,s,a,e.side===On,o),l===null)return null;oa.copy(o),oa.applyMatrix4(n.matrixWorld);const c=t.ray.origin.distanceTo(oa);return c<t.near||c>t.far?null:{distance:c,point:oa.clone(),object:n}}function la(n,e,t,i,r,s,a,o,l,c){n.getVertexPosition(o,ia),n.getVertexPosition(l,ra),n.getVertexPosition(c,sa);const u=O_(n,e,t,i,ia,ra,sa,Dd);if(u){const d=new O;ln.getBarycoord(Dd,ia,ra,sa,d),r&&(u.uv=ln.getInterpolatedAttribute(r,o,l,c,d,new ke)),s&&(u.uv1=ln.getInterpolatedAttribute(s,o,l,c,d,new ke)),a&&(u.normal=ln.getInterpolatedAttribute(a,o,l,c,d,new O),u.normal.dot(i.direction)>0&&u.normal.multiplyScalar(-1));const h={a:o,b:l,c,normal:new O,materialIndex:0};ln.getNormal(ia,ra,sa,h.normal),u.face=h,u.barycoord=d}return u}class Wr extends cn{constructor(e=1,t=1,i=1,r=1,s=1,a=1){super(),this.type="BoxGeometry",this.parameters={width:e,height:t,depth:i,widthSegments:r,heightSegments:s,depthSegments:a};const o=this;r=Math.floor(r),s=Math.floor(s),a=Math.floor(a);const l=[],c=[],u=[],d=[];let h=0,p=0;g("z","y","x",-1,-1,i,t,e,a,s,0),g("z","y","x",1,-1,i,t,-e,a,s,1),g("x","z","y",1,1,e,i,t,r,a,2),g("x","z","y",1,-1,e,i,-t,r,a,3),g("x","y","z",1,-1,e,t,i,r,s,4),g("x","y","z",-1,-1,e,t,-i,r,s,5),this.setIndex(l),this.setAttribute("position",new Dn(c,3)),this.setAttribute("normal",new Dn(u,3)),this.setAttribute("uv",new Dn(d,2));function g(_,m,f,E,y,M,C,A,D,F,w){const b=M/D,P=C/F,k=M/2,G=C/2,W=A/2,Y=D+1,q=F+1;let te=0,V=0;const se=new O;for(let oe=0;oe<q;oe++){const ye=oe*P-G;for(let ze=0;ze<Y;ze++){const Qe=ze*b-k;se[_]=Qe*E,se[m]=ye*y,se[f]=W,c.push(se.x,se.y,se.z),se[_]=0,se[m]=0,se[f]=A>0?1:-1,u.push(se.x,se.y,se.z),d.push(ze/D),d.push(1-oe/F),te+=1}}for(let oe=0;oe<F;oe++)for(let ye=0;ye<D;ye++){const ze=h+ye+Y*oe,Qe=h+ye+Y*(oe+1),st=h+(ye+1)+Y*(oe+1),qe=h+(ye+1)+Y*oe;l.push(ze,Qe,qe),l.push(Qe,st,qe),V+=6}o.addGroup(p,V,w),p+=V,h+=te}}copy(e){return super.copy(e),this.parameters=Object.assign({},e.parameters),this}static fromJSON(e){return new Wr(e.width,e.height,e.depth,e.widthSegments,e.heightSegments,e.depthSegments)}}function sr(n){const e={};for(const t in n){e[t]={};for(const i in n[t]){const r=n[t][i];r&&(r.isColor||r.isMatrix3||r.isMatrix4||r.isVector2||r.isVector3||r.isVector4||r.isTexture||r.isQuaternion)?r.isRenderTargetTexture?(console.warn("UniformsUtils: Textures of render targets cannot be cloned via cloneUniforms() or mergeUniforms()."),e[t][i]=null):e[t][i]=r.clone():Array.isArray(r)?e[t][i]=r.slice():e[t][i]=r}}return e}function Dt(n){const e={};for(let t=0;t<n.length;t++){const i=sr(n[t]);for(const r in i)e[r]=i[r]}return e}function B_(n){const e=[];for(let t=0;t<n.length;t++)e.push(n[t].clone());return e}function Ld(n){const e=n.getRenderTarget();return e===null?n.outputColorSpace:e.isXRRenderTarget===!0?e.texture.colorSpace:Ge.workingColorSpace}const z_={clone:sr,merge:Dt};var H_=`void main() {
	gl_Position = projectionMatrix * modelViewMatrix * vec4( position, 1.0 );
}`,V_=`void main() {
	gl_FragColor = vec4( 1.0, 0.0, 0.0, 1.0 );
}`;class qn extends Vr{constructor(e){super(),this.isShaderMaterial=!0,this.type="ShaderMaterial",this.defines={},this.uniforms={},this.uniformsGroups=[],this.vertexShader=H_,this.fragmentShader=V_,this.linewidth=1,this.wireframe=!1,this.wireframeLinewidth=1,this.fog=!1,this.lights=!1,this.clipping=!1,this.forceSinglePass=!0,this.extensions={clipCullDistance:!1,multiDraw:!1},this.defaultAttributeValues={color:[1,1,1],uv:[0,0],uv1:[0,0]},this.index0AttributeName=void 0,this.uniformsNeedUpdate=!1,this.glslVersion=null,e!==void 0&&this.setValues(e)}copy(e){return super.copy(e),this.fragmentShader=e.fragmentShader,this.vertexShader=e.vertexShader,this.uniforms=sr(e.uniforms),this.uniformsGroups=B_(e.uniformsGroups),this.defines=Object.assign({},e.defines),this.wireframe=e.wireframe,this.wireframeLinewidth=e.wireframeLinewidth,this.fog=e.fog,this.lights=e.lights,this.clipping=e.clipping,this.extensions=Object.assign({},e.extensions),this.glslVersion=e.glslVersion,this}toJSON(e){const t=super.toJSON(e);t.glslVersion=this.glslVersion,t.uniforms={};for(const r in this.uniforms){const a=this.uniforms[r].value;a&&a.isTexture?t.uniforms[r]={type:"t",value:a.toJSON(e).uuid}:a&&a.isColor?t.uniforms[r]={type:"c",value:a.getHex()}:a&&a.isVector2?t.uniforms[r]={type:"v2",value:a.toArray()}:a&&a.isVector3?t.uniforms[r]={type:"v3",value:a.toArray()}:a&&a.isVector4?t.uniforms[r]={type:"v4",value:a.toArray()}:a&&a.isMatrix3?t.uniforms[r]={type:"m3",value:a.toArray()}:a&&a.isMatrix4?t.uniforms[r]={type:"m4",value:a.toArray()}:t.uniforms[r]={value:a}}Object.keys(this.defines).length>0&&(t.defines=this.defines),t.vertexShader=this.vertexShader,t.fragmentShader=this.fragmentShader,t.lights=this.lights,t.clipping=this.clipping;const i={};for(const r in this.extensions)this.extensions[r]===!0&&(i[r]=!0);return Object.keys(i).length>0&&(t.extensions=i),t}}class Nd extends Ft{constructor(){super(),this.isCamera=!0,this.type="Camera",this.matrixWorldInverse=new dt,this.projectionMatrix=new dt,this.projectionMatrixInverse=new dt,this.coordinateSystem=pn,this._reversedDepth=!1}get reversedDepth(){return this._reversedDepth}copy(e,t){return super.copy(e,t),this.matrixWorldInverse.copy(e.matrixWorldInverse),this.projectionMatrix.copy(e.projectionMatrix),this.projectionMatrixInverse.copy(e.projectionMatrixInverse),this.coordinateSystem=e.coordinateSystem,this}getWorldDirection(e){return super.getWorldDirection(e).negate()}updateMatrixWorld(e){super.updateMatrixWorld(e),this.matrixWorldInverse.copy(this.matrixWorld).invert()}updateWorldMatrix(e,t){super.updateWorldMatrix(e,t),this.matrixWorldInverse.copy(this.matrixWorld).invert()}clone(){return new this.constructor().copy(this)}}const Yn=new O,Ud=new ke,Id=new ke;class jt extends Nd{constructor(e=50,t=1,i=.1,r=2e3){super(),this.isPerspectiveCamera=!0,this.type="PerspectiveCamera",this.fov=e,this.zoom=1,this.near=i,this.far=r,this.focus=10,this.aspect=t,this.view=null,this.filmGauge=35,this.filmOffset=0,this.updateProjectionMatrix()}copy(e,t){return super.copy(e,t),this.fov=e.fov,this.zoom=e.zoom,this.near=e.near,this.far=e.far,this.focus=e.focus,this.aspect=e.aspect,this.view=e.view===null?null:Object.assign({},e.view),this.filmGauge=e.filmGauge,this.filmOffset=e.filmOffset,this}setFocalLength(e){const t=.5*this.getFilmHeight()/e;this.fov=yl*2*Math.atan(t),this.updateProjectionMatrix()}getFocalLength(){const e=Math.tan(Gs*.5*this.fov);return .5*this.getFilmHeight()/e}getEffectiveFOV(){return yl*2*Math.atan(Math.tan(Gs*.5*this.fov)/this.zoom)}getFilmWidth(){return this.filmGauge*Math.min(this.aspect,1)}getFilmHeight(){return this.filmGauge/Math.max(this.aspect,1)}getViewBounds(e,t,i){Yn.set(-1,-1,.5).applyMatrix4(this.projectionMatrixInverse),t.set(Yn.x,Yn.y).multiplyScalar(-e/Yn.z),Yn.set(1,1,.5).applyMatrix4(this.projectionMatrixInverse),i.set(Yn.x,Yn.y).multiplyScalar(-e/Yn.z)}getViewSize(e,t){return this.getViewBounds(e,Ud,Id),t.subVectors(Id,Ud)}setViewOffset(e,t,i,r,s,a){this.aspect=e/t,this.view===null&&(this.view={enabled:!0,fullWidth:1,fullHeight:1,offsetX:0,offsetY:0,width:1,height:1}),this.view.enabled=!0,this.view.fullWidth=e,this.view.fullHeight=t,this.view.offsetX=i,this.view.offsetY=r,this.view.width=s,this.view.height=a,this.updateProjectionMatrix()}clearViewOffset(){this.view!==null&&(this.view.enabled=!1),this.updateProjectionMatrix()}updateProjectionMatrix(){const e=this.near;let t=e*Math.tan(Gs*.5*this.fov)/this.zoom,i=2*t,r=this.aspect*i,s=-.5*r;const a=this.view;if(this.view!==null&&this.view.enabled){const l=a.fullWidth,c=a.fullHeight;s+=a.offsetX*r/l,t-=a.offsetY*i/c,r*=a.width/l,i*=a.height/c}const o=this.filmOffset;o!==0&&(s+=e*o/this.getFilmWidth()),this.projectionMatrix.makePerspective(s,s+r,t,t-i,e,this.far,this.coordinateSystem,this.reversedDepth),this.projectionMatrixInverse.copy(this.projectionMatrix).invert()}toJSON(e){const t=super.toJSON(e);return t.object.fov=this.fov,t.object.zoom=this.zoom,t.object.near=this.near,t.object.far=this.far,t.object.focus=this.focus,t.object.aspect=this.aspect,this.view!==null&&(t.object.view=Object.assign({},this.view)),t.object.filmGauge=this.filmGauge,t.object.filmOffset=this.filmOffset,t}}const ar=-90,or=1;class G_ extends Ft{constructor(e,t,i){super(),this.type="CubeCamera",this.renderTarget=i,this.coordinateSystem=null,this.activeMipmapLevel=0;const r=new jt(ar,or,e,t);r.layers=this.layers,this.add(r);const s=new jt(ar,or,e,t);s.layers=this.layers,this.add(s);const a=new jt(ar,or,e,t);a.layers=this.layers,this.add(a);const o=new jt(ar,or,e,t);o.layers=this.layers,this.add(o);const l=new jt(ar,or,e,t);l.layers=this.layers,this.add(l);const c=new jt(ar,or,e,t);c.layers=this.layers,this.add(c)}updateCoordinateSystem(){const e=this.coordinateSystem,t=this.children.concat(),[i,r,s,a,o,l]=t;for(const c of t)this.remove(c);if(e===pn)i.up.set(0,1,0),i.lookAt(1,0,0),r.up.set(0,1,0),r.lookAt(-1,0,0),s.up.set(0,0,-1),s.lookAt(0,1,0),a.up.set(0,0,1),a.lookAt(0,-1,0),o.up.set(0,1,0),o.lookAt(0,0,1),l.up.set(0,1,0),l.lookAt(0,0,-1);else if(e===Vs)i.up.set(0,-1,0),i.lookAt(-1,0,0),r.up.set(0,-1,0),r.lookAt(1,0,0),s.up.set(0,0,1),s.lookAt(0,1,0),a.up.set(0,0,-1),a.lookAt(0,-1,0),o.up.set(0,-1,0),o.lookAt(0,0,1),l.up.set(0,-1,0),l.lookAt(0,0,-1);else throw new Error("THREE.CubeCamera.updateCoordinateSystem(): Invalid coordinate system: "+e);for(const c of t)this.add(c),c.updateMatrixWorld()}update(e,t){this.parent===null&&this.updateMatrixWorld();const{renderTarget:i,activeMipmapLevel:r}=this;this.coordinateSystem!==e.coordinateSystem&&(this.coordinateSystem=e.coordinateSystem,this.updateCoordinateSystem());const[s,a,o,l,c,u]=this.children,d=e.getRenderTarget(),h=e.getActiveCubeFace(),p=e.getActiveMipmapLevel(),g=e.xr.enabled;e.xr.enabled=!1;const _=i.texture.generateMipmaps;i.texture.generateMipmaps=!1,e.setRenderTarget(i,0,r),e.render(t,s),e.setRenderTarget(i,1,r),e.render(t,a),e.setRenderTarget(i,2,r),e.render(t,o),e.setRenderTarget(i,3,r),e.render(t,l),e.setRenderTarget(i,4,r),e.render(t,c),i.texture.generateMipmaps=_,e.setRenderTarget(i,5,r),e.render(t,u),e.setRenderTarget(d,h,p),e.xr.enabled=g,i.texture.needsPMREMUpdate=!0}}class kd extends Pt{constructor(e=[],t=Wi,i,r,s,a,o,l,c,u){super(e,t,i,r,s,a,o,l,c,u),this.isCubeTexture=!0,this.flipY=!1}get images(){return this.image}set images(e){this.image=e}}class W_ extends fi{constructor(e=1,t={}){super(e,e,t),this.isWebGLCubeRenderTarget=!0;const i={width:e,height:e,depth:1},r=[i,i,i,i,i,i];this.texture=new kd(r),this._setTextureOptions(t),this.texture.isRenderTargetTexture=!0}fromEquirectangularTexture(e,t){this.texture.type=t.type,this.texture.colorSpace=t.colorSpace,this.texture.generateMipmaps=t.generateMipmaps,this.texture.minFilter=t.minFilter,this.texture.magFilter=t.magFilter;const i={uniforms:{tEquirect:{value:null}},vertexShader:`

				varying vec3 vWorldDirection;

				vec3 transformDirection( in vec3 dir, in mat4 matrix ) {

					return normalize( ( matrix * vec4( dir, 0.0 ) ).xyz );

				}

				void main() {

					vWorldDirection = transformDirection( position, modelMatrix );

					#include <begin_vertex>
					#include <project_vertex>

				}
			`,fragmentShader:`

				uniform sampler2D tEquirect;

				varying vec3 vWorldDirection;

				#include <common>

				void main() {

					vec3 direction = normalize( vWorldDirection );

					vec2 sampleUV = equirectUv( direction );

					gl_FragColor = texture2D( tEquirect, sampleUV );

				}
			`},r=new Wr(5,5,5),s=new qn({name:"CubemapFromEquirect",uniforms:sr(i.uniforms),vertexShader:i.vertexShader,fragmentShader:i.fragmentShader,side:It,blending:Bn});s.uniforms.tEquirect.value=t;const a=new hn(r,s),o=t.minFilter;return t.minFilter===li&&(t.minFilter=nn),new G_(1,10,this).update(e,a),t.minFilter=o,a.geometry.dispose(),a.material.dispose(),this}clear(e,t=!0,i=!0,r=!0){const s=e.getRenderTarget();for(let a=0;a<6;a++)e.setRenderTarget(this,a),e.clear(t,i,r);e.setRenderTarget(s)}}class $r extends Ft{constructor(){super(),this.isGroup=!0,this.type="Group"}}const $_={type:"move"};class Yl{constructor(){this._targetRay=null,this._grip=null,this._hand=null}getHandSpace(){return this._hand===null&&(this._hand=new $r,this._hand.matrixAutoUpdate=!1,this._hand.visible=!1,this._hand.joints={},this._hand.inputState={pinching:!1}),this._hand}getTargetRaySpace(){return this._targetRay===null&&(this._targetRay=new $r,this._targetRay.matrixAutoUpdate=!1,this._targetRay.visible=!1,this._targetRay.hasLinearVelocity=!1,this._targetRay.linearVelocity=new O,this._targetRay.hasAngularVelocity=!1,this._targetRay.angularVelocity=new O),this._targetRay}getGripSpace(){return this._grip===null&&(this._grip=new $r,this._grip.matrixAutoUpdate=!1,this._grip.visible=!1,this._grip.hasLinearVelocity=!1,this._grip.linearVelocity=new O,this._grip.hasAngularVelocity=!1,this._grip.angularVelocity=new O),this._grip}dispatchEvent(e){return this._targetRay!==null&&this._targetRay.dispatchEvent(e),this._grip!==null&&this._grip.dispatchEvent(e),this._hand!==null&&this._hand.dispatchEvent(e),this}connect(e){if(e&&e.hand){const t=this._hand;if(t)for(const i of e.hand.values())this._getHandJoint(t,i)}return this.dispatchEvent({type:"connected",data:e}),this}disconnect(e){return this.dispatchEvent({type:"disconnected",data:e}),this._targetRay!==null&&(this._targetRay.visible=!1),this._grip!==null&&(this._grip.visible=!1),this._hand!==null&&(this._hand.visible=!1),this}update(e,t,i){let r=null,s=null,a=null;const o=this._targetRay,l=this._grip,c=this._hand;if(e&&t.session.visibilityState!=="visible-blurred"){if(c&&e.hand){a=!0;for(const _ of e.hand.values()){const m=t.getJointPose(_,i),f=this._getHandJoint(c,_);m!==null&&(f.matrix.fromArray(m.transform.matrix),f.matrix.decompose(f.position,f.rotation,f.scale),f.matrixWorldNeedsUpdate=!0,f.jointRadius=m.radius),f.visible=m!==null}const u=c.joints["index-finger-tip"],d=c.joints["thumb-tip"],h=u.position.distanceTo(d.position),p=.02,g=.005;c.inputState.pinching&&h>p+g?(c.inputState.pinching=!1,this.dispatchEvent({type:"pinchend",handedness:e.handedness,target:this})):!c.inputState.pinching&&h<=p-g&&(c.inputState.pinching=!0,this.dispatchEvent({type:"pinchstart",handedness:e.handedness,target:this}))}else l!==null&&e.gripSpace&&(s=t.getPose(e.gripSpace,i),s!==null&&(l.matrix.fromArray(s.transform.matrix),l.matrix.decompose(l.position,l.rotation,l.scale),l.matrixWorldNeedsUpdate=!0,s.linearVelocity?(l.hasLinearVelocity=!0,l.linearVelocity.copy(s.linearVelocity)):l.hasLinearVelocity=!1,s.angularVelocity?(l.hasAngularVelocity=!0,l.angularVelocity.copy(s.angularVelocity)):l.hasAngularVelocity=!1));o!==null&&(r=t.getPose(e.targetRaySpace,i),r===null&&s!==null&&(r=s),r!==null&&(o.matrix.fromArray(r.transform.matrix),o.matrix.decompose(o.position,o.rotation,o.scale),o.matrixWorldNeedsUpdate=!0,r.linearVelocity?(o.hasLinearVelocity=!0,o.linearVelocity.copy(r.linearVelocity)):o.hasLinearVelocity=!1,r.angularVelocity?(o.hasAngularVelocity=!0,o.angularVelocity.copy(r.angularVelocity)):o.hasAngularVelocity=!1,this.dispatchEvent($_)))}return o!==null&&(o.visible=r!==null),l!==null&&(l.visible=s!==null),c!==null&&(c.visible=a!==null),this}_getHandJoint(e,t){if(e.joints[t.jointName]===void 0){const i=new $r;i.matrixAutoUpdate=!1,i.visible=!1,e.joints[t.jointName]=i,e.add(i)}return e.joints[t.jointName]}}class X_ extends Ft{constructor(){super(),this.isScene=!0,this.type="Scene",this.background=null,this.environment=null,this.fog=null,this.backgroundBlurriness=0,this.backgroundIntensity=1,this.backgroundRotation=new An,this.environmentIntensity=1,this.environmentRotation=new An,this.overrideMaterial=null,typeof __THREE_DEVTOOLS__<"u"&&__THREE_DEVTOOLS__.dispatchEvent(new CustomEvent("observe",{detail:this}))}copy(e,t){return super.copy(e,t),e.background!==null&&(this.background=e.background.clone()),e.environment!==null&&(this.environment=e.environment.clone()),e.fog!==null&&(this.fog=e.fog.clone()),this.backgroundBlurriness=e.backgroundBlurriness,this.backgroundIntensity=e.backgroundIntensity,this.backgroundRotation.copy(e.backgroundRotation),this.environmentIntensity=e.environmentIntensity,this.environmentRotation.copy(e.environmentRotation),e.overrideMaterial!==null&&(this.overrideMaterial=e.overrideMaterial.clone()),this.matrixAutoUpdate=e.matrixAutoUpdate,this}toJSON(e){const t=super.toJSON(e);return this.fog!==null&&(t.object.fog=this.fog.toJSON()),this.backgroundBlurriness>0&&(t.object.backgroundBlurriness=this.backgroundBlurriness),this.backgroundIntensity!==1&&(t.object.backgroundIntensity=this.backgroundIntensity),t.object.backgroundRotation=this.backgroundRotation.toArray(),this.environmentIntensity!==1&&(t.object.environmentIntensity=this.environmentIntensity),t.object.environmentRotation=this.environmentRotation.toArray(),t}}const jl=new O,q_=new O,Y_=new Ue;class jn{constructor(e=new O(1,0,0),t=0){this.isPlane=!0,this.normal=e,this.constant=t}set(e,t){return this.normal.copy(e),this.constant=t,this}setComponents(e,t,i,r){return this.normal.set(e,t,i),this.constant=r,this}setFromNormalAndCoplanarPoint(e,t){return this.normal.copy(e),this.constant=-t.dot(this.normal),this}setFromCoplanarPoints(e,t,i){const r=jl.subVectors(i,t).cross(q_.subVectors(e,t)).normalize();return this.setFromNormalAndCoplanarPoint(r,e),this}copy(e){return this.normal.copy(e.normal),this.constant=e.constant,this}normalize(){const e=1/this.normal.length();return this.normal.multiplyScalar(e),this.constant*=e,this}negate(){return this.constant*=-1,this.normal.negate(),this}distanceToPoint(e){return this.normal.dot(e)+this.constant}distanceToSphere(e){return this.distanceToPoint(e.center)-e.radius}projectPoint(e,t){return t.copy(e).addScaledVector(this.normal,-this.distanceToPoint(e))}intersectLine(e,t){const i=e.delta(jl),r=this.normal.dot(i);if(r===0)return this.distanceToPoint(e.start)===0?t.copy(e.start):null;const s=-(e.start.dot(this.normal)+this.constant)/r;return s<0||s>1?null:t.copy(e.start).addScaledVector(i,s)}intersectsLine(e){const t=this.distanceToPoint(e.start),i=this.distanceToPoint(e.end);return t<0&&i>0||i<0&&t>0}intersectsBox(e){return e.intersectsPlane(this)}intersectsSphere(e){return e.intersectsPlane(this)}coplanarPoint(e){return e.copy(this.normal).multiplyScalar(-this.constant)}applyMatrix4(e,t){const i=t||Y_.getNormalMatrix(e),r=this.coplanarPoint(jl).applyMatrix4(e),s=this.normal.applyMatrix3(i).normalize();return this.constant=-r.dot(s),this}translate(e){return this.constant-=e.dot(this.normal),this}equals(e){return e.normal.equals(this.normal)&&e.constant===this.constant}clone(){return new this.constructor().copy(this)}}const _i=new Ys,j_=new ke(.5,.5),ca=new O;class Fd{constructor(e=new jn,t=new jn,i=new jn,r=new jn,s=new jn,a=new jn){this.planes=[e,t,i,r,s,a]}set(e,t,i,r,s,a){const o=this.planes;return o[0].copy(e),o[1].copy(t),o[2].copy(i),o[3].copy(r),o[4].copy(s),o[5].copy(a),this}copy(e){const t=this.planes;for(let i=0;i<6;i++)t[i].copy(e.planes[i]);return this}setFromProjectionMatrix(e,t=pn,i=!1){const r=this.planes,s=e.elements,a=s[0],o=s[1],l=s[2],c=s[3],u=s[4],d=s[5],h=s[6],p=s[7],g=s[8],_=s[9],m=s[10],f=s[11],E=s[12],y=s[13],M=s[14],C=s[15];if(r[0].setComponents(c-a,p-u,f-g,C-E).normalize(),r[1].setComponents(c+a,p+u,f+g,C+E).normalize(),r[2].setComponents(c+o,p+d,f+_,C+y).normalize(),r[3].setComponents(c-o,p-d,f-_,C-y).normalize(),i)r[4].setComponents(l,h,m,M).normalize(),r[5].setComponents(c-l,p-h,f-m,C-M).normalize();else if(r[4].setComponents(c-l,p-h,f-m,C-M).normalize(),t===pn)r[5].setComponents(c+l,p+h,f+m,C+M).normalize();else if(t===Vs)r[5].setComponents(l,h,m,M).normalize();else throw new Error("THREE.Frustum.setFromProjectionMatrix(): Invalid coordinate system: "+t);return this}intersectsObject(e){if(e.boundingSphere!==void 0)e.boundingSphere===null&&e.computeBoundingSphere(),_i.copy(e.boundingSphere).applyMatrix4(e.matrixWorld);else{const t=e.geometry;t.boundingSphere===null&&t.computeBoundingSphere(),_i.copy(t.boundingSphere).applyMatrix4(e.matrixWorld)}return this.intersectsSphere(_i)}intersectsSprite(e){_i.center.set(0,0,0);const t=j_.distanceTo(e.center);return _i.radius=.7071067811865476+t,_i.applyMatrix4(e.matrixWorld),this.intersectsSphere(_i)}intersectsSphere(e){const t=this.planes,i=e.center,r=-e.radius;for(let s=0;s<6;s++)if(t[s].distanceToPoint(i)<r)return!1;return!0}intersectsBox(e){const t=this.planes;for(let i=0;i<6;i++){const r=t[i];if(ca.x=r.normal.x>0?e.max.x:e.min.x,ca.y=r.normal.y>0?e.max.y:e.min.y,ca.z=r.normal.z>0?e.max.z:e.min.z,r.distanceToPoint(ca)<0)return!1}return!0}containsPoint(e){const t=this.planes;for(let i=0;i<6;i++)if(t[i].distanceToPoint(e)<0)return!1;return!0}clone(){return new this.constructor().copy(this)}}class Od extends Vr{constructor(e){super(),this.isLineBasicMaterial=!0,this.type="LineBasicMaterial",this.color=new Xe(16777215),this.map=null,this.linewidth=1,this.linecap="round",this.linejoin="round",this.fog=!0,this.setValues(e)}copy(e){return super.copy(e),this.color.copy(e.color),this.map=e.map,this.linewidth=e.linewidth,this.linecap=e.linecap,this.linejoin=e.linejoin,this.fog=e.fog,this}}const ha=new O,ua=new O,Bd=new dt,Xr=new Ks,da=new Ys,Zl=new O,zd=new O;class Z_ extends Ft{constructor(e=new cn,t=new Od){super(),this.isLine=!0,this.type="Line",this.geometry=e,this.material=t,this.morphTargetDictionary=void 0,this.morphTargetInfluences=void 0,this.updateMorphTargets()}copy(e,t){return super.copy(e,t),this.material=Array.isArray(e.material)?e.material.slice():e.material,this.geometry=e.geometry,this}computeLineDistances(){const e=this.geometry;if(e.index===null){const t=e.attributes.position,i=[0];for(let r=1,s=t.count;r<s;r++)ha.fromBufferAttribute(t,r-1),ua.fromBufferAttribute(t,r),i[r]=i[r-1],i[r]+=ha.distanceTo(ua);e.setAttribute("lineDistance",new Dn(i,1))}else console.warn("THREE.Line.computeLineDistances(): Computation only possible with non-indexed BufferGeometry.");return this}raycast(e,t){const i=this.geometry,r=this.matrixWorld,s=e.params.Line.threshold,a=i.drawRange;if(i.boundingSphere===null&&i.computeBoundingSphere(),da.copy(i.boundingSphere),da.applyMatrix4(r),da.radius+=s,e.ray.intersectsSphere(da)===!1)return;Bd.copy(r).invert(),Xr.copy(e.ray).applyMatrix4(Bd);const o=s/((this.scale.x+this.scale.y+this.scale.z)/3),l=o*o,c=this.isLineSegments?2:1,u=i.index,h=i.attributes.position;if(u!==null){const p=Math.max(0,a.start),g=Math.min(u.count,a.start+a.count);for(let _=p,m=g-1;_<m;_+=c){const f=u.getX(_),E=u.getX(_+1),y=fa(this,e,Xr,l,f,E,_);y&&t.push(y)}if(this.isLineLoop){const _=u.getX(g-1),m=u.getX(p),f=fa(this,e,Xr,l,_,m,g-1);f&&t.push(f)}}else{const p=Math.max(0,a.start),g=Math.min(h.count,a.start+a.count);for(let _=p,m=g-1;_<m;_+=c){const f=fa(this,e,Xr,l,_,_+1,_);f&&t.push(f)}if(this.isLineLoop){const _=fa(this,e,Xr,l,g-1,p,g-1);_&&t.push(_)}}}updateMorphTargets(){const t=this.geometry.morphAttributes,i=Object.keys(t);if(i.length>0){const r=t[i[0]];if(r!==void 0){this.morphTargetInfluences=[],this.morphTargetDictionary={};for(let s=0,a=r.length;s<a;s++){const o=r[s].name||String(s);this.morphTargetInfluences.push(0),this.morphTargetDictionary[o]=s}}}}}function fa(n,e,t,i,r,s,a){const o=n.geometry.attributes.position;if(ha.fromBufferAttribute(o,r),ua.fromBufferAttribute(o,s),t.distanceSqToSegment(ha,ua,Zl,zd)>i)return;Zl.applyMatrix4(n.matrixWorld);const c=e.ray.origin.distanceTo(Zl);if(!(c<e.near||c>e.far))return{distance:c,point:zd.clone().applyMatrix4(n.matrixWorld),index:a,face:null,faceIndex:null,barycoord:null,object:n}}const Hd=new O,Vd=new O;class K_ extends Z_{constructor(e,t){super(e,t),this.isLineSegments=!0,this.type="LineSegments"}computeLineDistances(){const e=this.geometry;if(e.index===null){const t=e.attributes.position,i=[];for(let r=0,s=t.count;r<s;r+=2)Hd.fromBufferAttribute(t,r),Vd.fromBufferAttribute(t,r+1),i[r]=r===0?0:i[r-1],i[r+1]=i[r]+Hd.distanceTo(Vd);e.setAttribute("lineDistance",new Dn(i,1))}else console.warn("THREE.LineSegments.computeLineDistances(): Computation only possible with non-indexed BufferGeometry.");return this}}class J_ extends Pt{constructor(e,t,i,r,s,a,o,l,c){super(e,t,i,r,s,a,o,l,c),this.isCanvasTexture=!0,this.needsUpdate=!0}}class Gd extends Pt{constructor(e,t,i=ci,r,s,a,o=tn,l=tn,c,u=Nr,d=1){if(u!==Nr&&u!==Ur)throw new Error("DepthTexture format must be either THREE.DepthFormat or THREE.DepthStencilFormat");const h={width:e,height:t,depth:d};super(h,r,s,a,o,l,u,i,c),this.isDepthTexture=!0,this.flipY=!1,this.generateMipmaps=!1,this.compareFunction=null}copy(e){return super.copy(e),this.source=new Rl(Object.assign({},e.image)),this.compareFunction=e.compareFunction,this}toJSON(e){const t=super.toJSON(e);return this.compareFunction!==null&&(t.compareFunction=this.compareFunction),t}}class Wd extends Pt{constructor(e=null){super(),this.sourceTexture=e,this.isExternalTexture=!0}copy(e){return super.copy(e),this.sourceTexture=e.sourceTexture,this}}class pa extends cn{constructor(e=1,t=1,i=1,r=1){super(),this.type="PlaneGeometry",this.parameters={width:e,height:t,widthSegments:i,heightSegments:r};const s=e/2,a=t/2,o=Math.floor(i),l=Math.floor(r),c=o+1,u=l+1,d=e/o,h=t/l,p=[],g=[],_=[],m=[];for(let f=0;f<u;f++){const E=f*h-a;for(let y=0;y<c;y++){const M=y*d-s;g.push(M,-E,0),_.push(0,0,1),m.push(y/o),m.push(1-f/l)}}for(let f=0;f<l;f++)for(let E=0;E<o;E++){const y=E+c*f,M=E+c*(f+1),C=E+1+c*(f+1),A=E+1+c*f;p.push(y,M,A),p.push(M,C,A)}this.setIndex(p),this.setAttribute("position",new Dn(g,3)),this.setAttribute("normal",new Dn(_,3)),this.setAttribute("uv",new Dn(m,2))}copy(e){return super.copy(e),this.parameters=Object.assign({},e.parameters),this}static fromJSON(e){return new pa(e.width,e.height,e.widthSegments,e.heightSegments)}}class Q_ extends Vr{constructor(e){super(),this.isMeshDepthMaterial=!0,this.type="MeshDepthMaterial",this.depthPacking=o_,this.map=null,this.alphaMap=null,this.displacementMap=null,this.displacementScale=1,this.displacementBias=0,this.wireframe=!1,this.wireframeLinewidth=1,this.setValues(e)}copy(e){return super.copy(e),this.depthPacking=e.depthPacking,this.map=e.map,this.alphaMap=e.alphaMap,this.displacementMap=e.displacementMap,this.displacementScale=e.displacementScale,this.displacementBias=e.displacementBias,this.wireframe=e.wireframe,this.wireframeLinewidth=e.wireframeLinewidth,this}}class e0 extends Vr{constructor(e){super(),this.isMeshDistanceMaterial=!0,this.type="MeshDistanceMaterial",this.map=null,this.alphaMap=null,this.displacementMap=null,this.displacementScale=1,this.displacementBias=0,this.setValues(e)}copy(e){return super.copy(e),this.map=e.map,this.alphaMap=e.alphaMap,this.displacementMap=e.displacementMap,this.displacementScale=e.displacementScale,this.displacementBias=e.displacementBias,this}}class t0 extends Nd{constructor(e=-1,t=1,i=1,r=-1,s=.1,a=2e3){super(),this.isOrthographicCamera=!0,this.type="OrthographicCamera",this.zoom=1,this.view=null,this.left=e,this.right=t,this.top=i,this.bottom=r,this.near=s,this.far=a,this.updateProjectionMatrix()}copy(e,t){return super.copy(e,t),this.left=e.left,this.right=e.right,this.top=e.top,this.bottom=e.bottom,this.near=e.near,this.far=e.far,this.zoom=e.zoom,this.view=e.view===null?null:Object.assign({},e.view),this}setViewOffset(e,t,i,r,s,a){this.view===null&&(this.view={enabled:!0,fullWidth:1,fullHeight:1,offsetX:0,offsetY:0,width:1,height:1}),this.view.enabled=!0,this.view.fullWidth=e,this.view.fullHeight=t,this.view.offsetX=i,this.view.offsetY=r,this.view.width=s,this.view.height=a,this.updateProjectionMatrix()}clearViewOffset(){this.view!==null&&(this.view.enabled=!1),this.updateProjectionMatrix()}updateProjectionMatrix(){const e=(this.right-this.left)/(2*this.zoom),t=(this.top-this.bottom)/(2*this.zoom),i=(this.right+this.left)/2,r=(this.top+this.bottom)/2;let s=i-e,a=i+e,o=r+t,l=r-t;if(this.view!==null&&this.view.enabled){const c=(this.right-this.left)/this.view.fullWidth/this.zoom,u=(this.top-this.bottom)/this.view.fullHeight/this.zoom;s+=c*this.view.offsetX,a=s+c*this.view.width,o-=u*this.view.offsetY,l=o-u*this.view.height}this.projectionMatrix.makeOrthographic(s,a,o,l,this.near,this.far,this.coordinateSystem,this.reversedDepth),this.projectionMatrixInverse.copy(this.projectionMatrix).invert()}toJSON(e){const t=super.toJSON(e);return t.object.zoom=this.zoom,t.object.left=this.left,t.object.right=this.right,t.object.top=this.top,t.object.bottom=this.bottom,t.object.near=this.near,t.object.far=this.far,this.view!==null&&(t.object.view=Object.assign({},this.view)),t}}class n0 extends jt{constructor(e=[]){super(),this.isArrayCamera=!0,this.isMultiViewCamera=!1,this.cameras=e}}const $d=new dt;class i0{constructor(e,t,i=0,r=1/0){this.ray=new Ks(e,t),this.near=i,this.far=r,this.camera=null,this.layers=new kl,this.params={Mesh:{},Line:{threshold:1},LOD:{},Points:{threshold:1},Sprite:{}}}set(e,t){this.ray.set(e,t)}setFromCamera(e,t){t.isPerspectiveCamera?(this.ray.origin.setFromMatrixPosition(t.matrixWorld),this.ray.direction.set(e.x,e.y,.5).unproject(t).sub(this.ray.origin).normalize(),this.camera=t):t.isOrthographicCamera?(this.ray.origin.set(e.x,e.y,(t.near+t.far)/(t.near-t.far)).unproject(t),this.ray.direction.set(0,0,-1).transformDirection(t.matrixWorld),this.camera=t):console.error("THREE.Raycaster: Unsupported camera type: "+t.type)}setFromXRController(e){return $d.identity().extractRotation(e.matrixWorld),this.ray.origin.setFromMatrixPosition(e.matrixWorld),this.ray.direction.set(0,0,-1).applyMatrix4($d),this}intersectObject(e,t=!0,i=[]){return Kl(e,this,i,t),i.sort(Xd),i}intersectObjects(e,t=!0,i=[]){for(let r=0,s=e.length;r<s;r++)Kl(e[r],this,i,t);return i.sort(Xd),i}}function Xd(n,e){return n.distance-e.distance}function Kl(n,e,t,i){let r=!0;if(n.layers.test(e.layers)&&n.raycast(e,t)===!1&&(r=!1),r===!0&&i===!0){const s=n.children;for(let a=0,o=s.length;a<o;a++)Kl(s[a],e,t,!0)}}class qd{constructor(e=1,t=0,i=0){this.radius=e,this.phi=t,this.theta=i}set(e,t,i){return this.radius=e,this.phi=t,this.theta=i,this}copy(e){return this.radius=e.radius,this.phi=e.phi,this.theta=e.theta,this}makeSafe(){return this.phi=Be(this.phi,1e-6,Math.PI-1e-6),this}setFromVector3(e){return this.setFromCartesianCoords(e.x,e.y,e.z)}setFromCartesianCoords(e,t,i){return this.radius=Math.sqrt(e*e+t*t+i*i),this.radius===0?(this.theta=0,this.phi=0):(this.theta=Math.atan2(e,i),this.phi=Math.acos(Be(t/this.radius,-1,1))),this}clone(){return new this.constructor().copy(this)}}class r0 extends ui{constructor(e,t=null){super(),this.object=e,this.domElement=t,this.enabled=!0,this.state=-1,this.keys={},this.mouseButtons={LEFT:null,MIDDLE:null,RIGHT:null},this.touches={ONE:null,TWO:null}}connect(e){if(e===void 0){console.warn("THREE.Controls: connect() now requires an element.");return}this.domElement!==null&&this.disconnect(),this.domElement=e}disconnect(){}dispose(){}update(){}}function Yd(n,e,t,i){const r=s0(i);switch(t){case rd:return n*e;case ad:return n*e/r.components*r.byteLength;case qo:return n*e/r.components*r.byteLength;case od:return n*e*2/r.components*r.byteLength;case Yo:return n*e*2/r.components*r.byteLength;case sd:return n*e*3/r.components*r.byteLength;case rn:return n*e*4/r.components*r.byteLength;case jo:return n*e*4/r.components*r.byteLength;case Fs:case Os:return Math.floor((n+3)/4)*Math.floor((e+3)/4)*8;case Bs:case zs:return Math.floor((n+3)/4)*Math.floor((e+3)/4)*16;case Ko:case Qo:return Math.max(n,16)*Math.max(e,8)/4;case Zo:case Jo:return Math.max(n,8)*Math.max(e,8)/2;case el:case tl:return Math.floor((n+3)/4)*Math.floor((e+3)/4)*8;case nl:return Math.floor((n+3)/4)*Math.floor((e+3)/4)*16;case il:return Math.floor((n+3)/4)*Math.floor((e+3)/4)*16;case rl:return Math.floor((n+4)/5)*Math.floor((e+3)/4)*16;case sl:return Math.floor((n+4)/5)*Math.floor((e+4)/5)*16;case al:return Math.floor((n+5)/6)*Math.floor((e+4)/5)*16;case ol:return Math.floor((n+5)/6)*Math.floor((e+5)/6)*16;case ll:return Math.floor((n+7)/8)*Math.floor((e+4)/5)*16;case cl:return Math.floor((n+7)/8)*Math.floor((e+5)/6)*16;case hl:return Math.floor((n+7)/8)*Math.floor((e+7)/8)*16;case ul:return Math.floor((n+9)/10)*Math.floor((e+4)/5)*16;case dl:return Math.floor((n+9)/10)*Math.floor((e+5)/6)*16;case fl:return Math.floor((n+9)/10)*Math.floor((e+7)/8)*16;case pl:return Math.floor((n+9)/10)*Math.floor((e+9)/10)*16;case ml:return Math.floor((n+11)/12)*Math.floor((e+9)/10)*16;case gl:return Math.floor((n+11)/12)*Math.floor((e+11)/12)*16;case _l:case vl:case xl:return Math.ceil(n/4)*Math.ceil(e/4)*16;case Sl:case bl:return Math.ceil(n/4)*Math.ceil(e/4)*8;case Ml:case wl:return Math.ceil(n/4)*Math.ceil(e/4)*16}throw new Error(`Unable to determine texture byte length for ${t} format.`)}function s0(n){switch(n){case Mn:case ed:return{byteLength:1,components:1};case Pr:case td:case Dr:return{byteLength:2,components:1};case $o:case Xo:return{byteLength:2,components:4};case ci:case Wo:case wn:return{byteLength:4,components:1};case nd:case id:return{byteLength:4,components:3}}throw new Error(`Unknown texture type ${n}.`)}typeof __THREE_DEVTOOLS__<"u"&&__THREE_DEVTOOLS__.dispatchEvent(new CustomEvent("register",{detail:{revision:Co}})),typeof window<"u"&&(window.__THREE__?console.warn("WARNING: Multiple instances of Three.js being imported."):window.__THREE__=Co);function jd(){let n=null,e=!1,t=null,i=null;function r(s,a){t(s,a),i=n.requestAnimationFrame(r)}return{start:function(){e!==!0&&t!==null&&(i=n.requestAnimationFrame(r),e=!0)},stop:function(){n.cancelAnimationFrame(i),e=!1},setAnimationLoop:function(s){t=s},setContext:function(s){n=s}}}function a0(n){const e=new WeakMap;function t(o,l){const c=o.array,u=o.usage,d=c.byteLength,h=n.createBuffer();n.bindBuffer(l,h),n.bufferData(l,c,u),o.onUploadCallback();let p;if(c instanceof Float32Array)p=n.FLOAT;else if(typeof Float16Array<"u"&&c instanceof Float16Array)p=n.HALF_FLOAT;else if(c instanceof Uint16Array)o.isFloat16BufferAttribute?p=n.HALF_FLOAT:p=n.UNSIGNED_SHORT;else if(c instanceof Int16Array)p=n.SHORT;else if(c instanceof Uint32Array)p=n.UNSIGNED_INT;else if(c instanceof Int32Array)p=n.INT;else if(c instanceof Int8Array)p=n.BYTE;else if(c instanceof Uint8Array)p=n.UNSIGNED_BYTE;else if(c instanceof Uint8ClampedArray)p=n.UNSIGNED_BYTE;else throw new Error("THREE.WebGLAttributes: Unsupported buffer data format: "+c);return{buffer:h,type:p,bytesPerElement:c.BYTES_PER_ELEMENT,version:o.version,size:d}}function i(o,l,c){const u=l.array,d=l.updateRanges;if(n.bindBuffer(c,o),d.length===0)n.bufferSubData(c,0,u);else{d.sort((p,g)=>p.start-g.start);let h=0;for(let p=1;p<d.length;p++){const g=d[h],_=d[p];_.start<=g.start+g.count+1?g.count=Math.max(g.count,_.start+_.count-g.start):(++h,d[h]=_)}d.length=h+1;for(let p=0,g=d.length;p<g;p++){const _=d[p];n.bufferSubData(c,_.start*u.BYTES_PER_ELEMENT,u,_.start,_.count)}l.clearUpdateRanges()}l.onUploadCallback()}function r(o){return o.isInterleavedBufferAttribute&&(o=o.data),e.get(o)}function s(o){o.isInterleavedBufferAttribute&&(o=o.data);const l=e.get(o);l&&(n.deleteBuffer(l.buffer),e.delete(o))}function a(o,l){if(o.isInterleavedBufferAttribute&&(o=o.data),o.isGLBufferAttribute){const u=e.get(o);(!u||u.version<o.version)&&e.set(o,{buffer:o.buffer,type:o.type,bytesPerElement:o.elementSize,version:o.version});return}const c=e.get(o);if(c===void 0)e.set(o,t(o,l));else if(c.version<o.version){if(c.size!==o.array.byteLength)throw new Error("THREE.WebGLAttributes: The size of the buffer attribute's array buffer does not match the original size. Resizing buffer attributes is not supported.");i(c.buffer,o,l),c.version=o.version}}return{get:r,remove:s,update:a}}var o0=`#ifdef USE_ALPHAHASH
	if ( diffuseColor.a < getAlphaHashThreshold( vPosition ) ) discard;
#endif`,l0=`#ifdef USE_ALPHAHASH
	const float ALPHA_HASH_SCALE = 0.05;
	float hash2D( vec2 value ) {
		return fract( 1.0e4 * sin( 17.0 * value.x + 0.1 * value.y ) * ( 0.1 + abs( sin( 13.0 * value.y + value.x ) ) ) );
	}
	float hash3D( vec3 value ) {
		return hash2D( vec2( hash2D( value.xy ), value.z ) );
	}
	float getAlphaHashThreshold( vec3 position ) {
		float maxDeriv = max(
			length( dFdx( position.xyz ) ),
			length( dFdy( position.xyz ) )
		);
		float pixScale = 1.0 / ( ALPHA_HASH_SCALE * maxDeriv );
		vec2 pixScales = vec2(
			exp2( floor( log2( pixScale ) ) ),
			exp2( ceil( log2( pixScale ) ) )
		);
		vec2 alpha = vec2(
			hash3D( floor( pixScales.x * position.xyz ) ),
			hash3D( floor( pixScales.y * position.xyz ) )
		);
		float lerpFactor = fract( log2( pixScale ) );
		float x = ( 1.0 - lerpFactor ) * alpha.x + lerpFactor * alpha.y;
		float a = min( lerpFactor, 1.0 - lerpFactor );
		vec3 cases = vec3(
			x * x / ( 2.0 * a * ( 1.0 - a ) ),
			( x - 0.5 * a ) / ( 1.0 - a ),
			1.0 - ( ( 1.0 - x ) * ( 1.0 - x ) / ( 2.0 * a * ( 1.0 - a ) ) )
		);
		float threshold = ( x < ( 1.0 - a ) )
			? ( ( x < a ) ? cases.x : cases.y )
			: cases.z;
		return clamp( threshold , 1.0e-6, 1.0 );
	}
#endif`,c0=`#ifdef USE_ALPHAMAP
	diffuseColor.a *= texture2D( alphaMap, vAlphaMapUv ).g;
#endif`,h0=`#ifdef USE_ALPHAMAP
	uniform sampler2D alphaMap;
#endif`,u0=`#ifdef USE_ALPHATEST
	#ifdef ALPHA_TO_COVERAGE
	diffuseColor.a = smoothstep( alphaTest, alphaTest + fwidth( diffuseColor.a ), diffuseColor.a );
	if ( diffuseColor.a == 0.0 ) discard;
	#else
	if ( diffuseColor.a < alphaTest ) discard;
	#endif
#endif`,d0=`#ifdef USE_ALPHATEST
	uniform float alphaTest;
#endif`,f0=`#ifdef USE_AOMAP
	float ambientOcclusion = ( texture2D( aoMap, vAoMapUv ).r - 1.0 ) * aoMapIntensity + 1.0;
	reflectedLight.indirectDiffuse *= ambientOcclusion;
	#if defined( USE_CLEARCOAT ) 
		clearcoatSpecularIndirect *= ambientOcclusion;
	#endif
	#if defined( USE_SHEEN ) 
		sheenSpecularIndirect *= ambientOcclusion;
	#endif
	#if defined( USE_ENVMAP ) && defined( STANDARD )
		float dotNV = saturate( dot( geometryNormal, geometryViewDir ) );
		reflectedLight.indirectSpecular *= computeSpecularOcclusion( dotNV, ambientOcclusion, material.roughness );
	#endif
#endif`,p0=`#ifdef USE_AOMAP
	uniform sampler2D aoMap;
	uniform float aoMapIntensity;
#endif`,m0=`#ifdef USE_BATCHING
	#if ! defined( GL_ANGLE_multi_draw )
	#define gl_DrawID _gl_DrawID
	uniform int _gl_DrawID;
	#endif
	uniform highp sampler2D batchingTexture;
	uniform highp usampler2D batchingIdTexture;
	mat4 getBatchingMatrix( const in float i ) {
		int size = textureSize( batchingTexture, 0 ).x;
		int j = int( i ) * 4;
		int x = j % size;
		int y = j / size;
		vec4 v1 = texelFetch( batchingTexture, ivec2( x, y ), 0 );
		vec4 v2 = texelFetch( batchingTexture, ivec2( x + 1, y ), 0 );
		vec4 v3 = texelFetch( batchingTexture, ivec2( x + 2, y ), 0 );
		vec4 v4 = texelFetch( batchingTexture, ivec2( x + 3, y ), 0 );
		return mat4( v1, v2, v3, v4 );
	}
	float getIndirectIndex( const in int i ) {
		int size = textureSize( batchingIdTexture, 0 ).x;
		int x = i % size;
		int y = i / size;
		return float( texelFetch( batchingIdTexture, ivec2( x, y ), 0 ).r );
	}
#endif
#ifdef USE_BATCHING_COLOR
	uniform sampler2D batchingColorTexture;
	vec3 getBatchingColor( const in float i ) {
		int size = textureSize( batchingColorTexture, 0 ).x;
		int j = int( i );
		int x = j % size;
		int y = j / size;
		return texelFetch( batchingColorTexture, ivec2( x, y ), 0 ).rgb;
	}
#endif`,g0=`#ifdef USE_BATCHING
	mat4 batchingMatrix = getBatchingMatrix( getIndirectIndex( gl_DrawID ) );
#endif`,_0=`vec3 transformed = vec3( position );
#ifdef USE_ALPHAHASH
	vPosition = vec3( position );
#endif`,v0=`vec3 objectNormal = vec3( normal );
#ifdef USE_TANGENT
	vec3 objectTangent = vec3( tangent.xyz );
#endif`,x0=`float G_BlinnPhong_Implicit( ) {
	return 0.25;
}
float D_BlinnPhong( const in float shininess, const in float dotNH ) {
	return RECIPROCAL_PI * ( shininess * 0.5 + 1.0 ) * pow( dotNH, shininess );
}
vec3 BRDF_BlinnPhong( const in vec3 lightDir, const in vec3 viewDir, const in vec3 normal, const in vec3 specularColor, const in float shininess ) {
	vec3 halfDir = normalize( lightDir + viewDir );
	float dotNH = saturate( dot( normal, halfDir ) );
	float dotVH = saturate( dot( viewDir, halfDir ) );
	vec3 F = F_Schlick( specularColor, 1.0, dotVH );
	float G = G_BlinnPhong_Implicit( );
	float D = D_BlinnPhong( shininess, dotNH );
	return F * ( G * D );
} // validated`,S0=`#ifdef USE_IRIDESCENCE
	const mat3 XYZ_TO_REC709 = mat3(
		 3.2404542, -0.9692660,  0.0556434,
		-1.5371385,  1.8760108, -0.2040259,
		-0.4985314,  0.0415560,  1.0572252
	);
	vec3 Fresnel0ToIor( vec3 fresnel0 ) {
		vec3 sqrtF0 = sqrt( fresnel0 );
		return ( vec3( 1.0 ) + sqrtF0 ) / ( vec3( 1.0 ) - sqrtF0 );
	}
	vec3 IorToFresnel0( vec3 transmittedIor, float incidentIor ) {
		return pow2( ( transmittedIor - vec3( incidentIor ) ) / ( transmittedIor + vec3( incidentIor ) ) );
	}
	float IorToFresnel0( float transmittedIor, float incidentIor ) {
		return pow2( ( transmittedIor - incidentIor ) / ( transmittedIor + incidentIor ));
	}
	vec3 evalSensitivity( float OPD, vec3 shift ) {
		float phase = 2.0 * PI * OPD * 1.0e-9;
		vec3 val = vec3( 5.4856e-13, 4.4201e-13, 5.2481e-13 );
		vec3 pos = vec3( 1.6810e+06, 1.7953e+06, 2.2084e+06 );
		vec3 var = vec3( 4.3278e+09, 9.3046e+09, 6.6121e+09 );
		vec3 xyz = val * sqrt( 2.0 * PI * var ) * cos( pos * phase + shift ) * exp( - pow2( phase ) * var );
		xyz.x += 9.7470e-14 * sqrt( 2.0 * PI * 4.5282e+09 ) * cos( 2.2399e+06 * phase + shift[ 0 ] ) * exp( - 4.5282e+09 * pow2( phase ) );
		xyz /= 1.0685e-7;
		vec3 rgb = XYZ_TO_REC709 * xyz;
		return rgb;
	}
	vec3 evalIridescence( float outsideIOR, float eta2, float cosTheta1, float thinFilmThickness, vec3 baseF0 ) {
		vec3 I;
		float iridescenceIOR = mix( outsideIOR, eta2, smoothstep( 0.0, 0.03, thinFilmThickness ) );
		float sinTheta2Sq = pow2( outsideIOR / iridescenceIOR ) * ( 1.0 - pow2( cosTheta1 ) );
		float cosTheta2Sq = 1.0 - sinTheta2Sq;
		if ( cosTheta2Sq < 0.0 ) {
			return vec3( 1.0 );
		}
		float cosTheta2 = sqrt( cosTheta2Sq );
		float R0 = IorToFresnel0( iridescenceIOR, outsideIOR );
		float R12 = F_Schlick( R0, 1.0, cosTheta1 );
		float T121 = 1.0 - R12;
		float phi12 = 0.0;
		if ( iridescenceIOR < outsideIOR ) phi12 = PI;
		float phi21 = PI - phi12;
		vec3 baseIOR = Fresnel0ToIor( clamp( baseF0, 0.0, 0.9999 ) );		vec3 R1 = IorToFresnel0( baseIOR, iridescenceIOR );
		vec3 R23 = F_Schlick( R1, 1.0, cosTheta2 );
		vec3 phi23 = vec3( 0.0 );
		if ( baseIOR[ 0 ] < iridescenceIOR ) phi23[ 0 ] = PI;
		if ( baseIOR[ 1 ] < iridescenceIOR ) phi23[ 1 ] = PI;
		if ( baseIOR[ 2 ] < iridescenceIOR ) phi23[ 2 ] = PI;
		float OPD = 2.0 * iridescenceIOR * thinFilmThickness * cosTheta2;
		vec3 phi = vec3( phi21 ) + phi23;
		vec3 R123 = clamp( R12 * R23, 1e-5, 0.9999 );
		vec3 r123 = sqrt( R123 );
		vec3 Rs = pow2( T121 ) * R23 / ( vec3( 1.0 ) - R123 );
		vec3 C0 = R12 + Rs;
		I = C0;
		vec3 Cm = Rs - T121;
		for ( int m = 1; m <= 2; ++ m ) {
			Cm *= r123;
			vec3 Sm = 2.0 * evalSensitivity( float( m ) * OPD, float( m ) * phi );
			I += Cm * Sm;
		}
		return max( I, vec3( 0.0 ) );
	}
#endif`,b0=`#ifdef USE_BUMPMAP
	uniform sampler2D bumpMap;
	uniform float bumpScale;
	vec2 dHdxy_fwd() {
		vec2 dSTdx = dFdx( vBumpMapUv );
		vec2 dSTdy = dFdy( vBumpMapUv );
		float Hll = bumpScale * texture2D( bumpMap, vBumpMapUv ).x;
		float dBx = bumpScale * texture2D( bumpMap, vBumpMapUv + dSTdx ).x - Hll;
		float dBy = bumpScale * texture2D( bumpMap, vBumpMapUv + dSTdy ).x - Hll;
		return vec2( dBx, dBy );
	}
	vec3 perturbNormalArb( vec3 surf_pos, vec3 surf_norm, vec2 dHdxy, float faceDirection ) {
		vec3 vSigmaX = normalize( dFdx( surf_pos.xyz ) );
		vec3 vSigmaY = normalize( dFdy( surf_pos.xyz ) );
		vec3 vN = surf_norm;
		vec3 R1 = cross( vSigmaY, vN );
		vec3 R2 = cross( vN, vSigmaX );
		float fDet = dot( vSigmaX, R1 ) * faceDirection;
		vec3 vGrad = sign( fDet ) * ( dHdxy.x * R1 + dHdxy.y * R2 );
		return normalize( abs( fDet ) * surf_norm - vGrad );
	}
#endif`,M0=`#if NUM_CLIPPING_PLANES > 0
	vec4 plane;
	#ifdef ALPHA_TO_COVERAGE
		float distanceToPlane, distanceGradient;
		float clipOpacity = 1.0;
		#pragma unroll_loop_start
		for ( int i = 0; i < UNION_CLIPPING_PLANES; i ++ ) {
			plane = clippingPlanes[ i ];
			distanceToPlane = - dot( vClipPosition, plane.xyz ) + plane.w;
			distanceGradient = fwidth( distanceToPlane ) / 2.0;
			clipOpacity *= smoothstep( - distanceGradient, distanceGradient, distanceToPlane );
			if ( clipOpacity == 0.0 ) discard;
		}
		#pragma unroll_loop_end
		#if UNION_CLIPPING_PLANES < NUM_CLIPPING_PLANES
			float unionClipOpacity = 1.0;
			#pragma unroll_loop_start
			for ( int i = UNION_CLIPPING_PLANES; i < NUM_CLIPPING_PLANES; i ++ ) {
				plane = clippingPlanes[ i ];
				distanceToPlane = - dot( vClipPosition, plane.xyz ) + plane.w;
				distanceGradient = fwidth( distanceToPlane ) / 2.0;
				unionClipOpacity *= 1.0 - smoothstep( - distanceGradient, distanceGradient, distanceToPlane );
			}
			#pragma unroll_loop_end
			clipOpacity *= 1.0 - unionClipOpacity;
		#endif
		diffuseColor.a *= clipOpacity;
		if ( diffuseColor.a == 0.0 ) discard;
	#else
		#pragma unroll_loop_start
		for ( int i = 0; i < UNION_CLIPPING_PLANES; i ++ ) {
			plane = clippingPlanes[ i ];
			if ( dot( vClipPosition, plane.xyz ) > plane.w ) discard;
		}
		#pragma unroll_loop_end
		#if UNION_CLIPPING_PLANES < NUM_CLIPPING_PLANES
			bool clipped = true;
			#pragma unroll_loop_start
			for ( int i = UNION_CLIPPING_PLANES; i < NUM_CLIPPING_PLANES; i ++ ) {
				plane = clippingPlanes[ i ];
				clipped = ( dot( vClipPosition, plane.xyz ) > plane.w ) && clipped;
			}
			#pragma unroll_loop_end
			if ( clipped ) discard;
		#endif
	#endif
#endif`,w0=`#if NUM_CLIPPING_PLANES > 0
	varying vec3 vClipPosition;
	uniform vec4 clippingPlanes[ NUM_CLIPPING_PLANES ];
#endif`,y0=`#if NUM_CLIPPING_PLANES > 0
	varying vec3 vClipPosition;
#endif`,E0=`#if NUM_CLIPPING_PLANES > 0
	vClipPosition = - mvPosition.xyz;
#endif`,T0=`#if defined( USE_COLOR_ALPHA )
	diffuseColor *= vColor;
#elif defined( USE_COLOR )
	diffuseColor.rgb *= vColor;
#endif`,A0=`#if defined( USE_COLOR_ALPHA )
	varying vec4 vColor;
#elif defined( USE_COLOR )
	varying vec3 vColor;
#endif`,R0=`#if defined( USE_COLOR_ALPHA )
	varying vec4 vColor;
#elif defined( USE_COLOR ) || defined( USE_INSTANCING_COLOR ) || defined( USE_BATCHING_COLOR )
	varying vec3 vColor;
#endif`,C0=`#if defined( USE_COLOR_ALPHA )
	vColor = vec4( 1.0 );
#elif defined( USE_COLOR ) || defined( USE_INSTANCING_COLOR ) || defined( USE_BATCHING_COLOR )
	vColor = vec3( 1.0 );
#endif
#ifdef USE_COLOR
	vColor *= color;
#endif
#ifdef USE_INSTANCING_COLOR
	vColor.xyz *= instanceColor.xyz;
#endif
#ifdef USE_BATCHING_COLOR
	vec3 batchingColor = getBatchingColor( getIndirectIndex( gl_DrawID ) );
	vColor.xyz *= batchingColor.xyz;
#endif`,P0=`#define PI 3.141592653589793
#define PI2 6.283185307179586
#define PI_HALF 1.5707963267948966
#define RECIPROCAL_PI 0.3183098861837907
#define RECIPROCAL_PI2 0.15915494309189535
#define EPSILON 1e-6
#ifndef saturate
#define saturate( a ) clamp( a, 0.0, 1.0 )
#endif
#define whiteComplement( a ) ( 1.0 - saturate( a ) )
float pow2( const in float x ) { return x*x; }
vec3 pow2( const in vec3 x ) { return x*x; }
float pow3( const in float x ) { return x*x*x; }
float pow4( const in float x ) { float x2 = x*x; return x2*x2; }
float max3( const in vec3 v ) { return max( max( v.x, v.y ), v.z ); }
float average( const in vec3 v ) { return dot( v, vec3( 0.3333333 ) ); }
highp float rand( const in vec2 uv ) {
	const highp float a = 12.9898, b = 78.233, c = 43758.5453;
	highp float dt = dot( uv.xy, vec2( a,b ) ), sn = mod( dt, PI );
	return fract( sin( sn ) * c );
}
#ifdef HIGH_PRECISION
	float precisionSafeLength( vec3 v ) { return length( v ); }
#else
	float precisionSafeLength( vec3 v ) {
		float maxComponent = max3( abs( v ) );
		return length( v / maxComponent ) * maxComponent;
	}
#endif
struct IncidentLight {
	vec3 color;
	vec3 direction;
	bool visible;
};
struct ReflectedLight {
	vec3 directDiffuse;
	vec3 directSpecular;
	vec3 indirectDiffuse;
	vec3 indirectSpecular;
};
#ifdef USE_ALPHAHASH
	varying vec3 vPosition;
#endif
vec3 transformDirection( in vec3 dir, in mat4 matrix ) {
	return normalize( ( matrix * vec4( dir, 0.0 ) ).xyz );
}
vec3 inverseTransformDirection( in vec3 dir, in mat4 matrix ) {
	return normalize( ( vec4( dir, 0.0 ) * matrix ).xyz );
}
mat3 transposeMat3( const in mat3 m ) {
	mat3 tmp;
	tmp[ 0 ] = vec3( m[ 0 ].x, m[ 1 ].x, m[ 2 ].x );
	tmp[ 1 ] = vec3( m[ 0 ].y, m[ 1 ].y, m[ 2 ].y );
	tmp[ 2 ] = vec3( m[ 0 ].z, m[ 1 ].z, m[ 2 ].z );
	return tmp;
}
bool isPerspectiveMatrix( mat4 m ) {
	return m[ 2 ][ 3 ] == - 1.0;
}
vec2 equirectUv( in vec3 dir ) {
	float u = atan( dir.z, dir.x ) * RECIPROCAL_PI2 + 0.5;
	float v = asin( clamp( dir.y, - 1.0, 1.0 ) ) * RECIPROCAL_PI + 0.5;
	return vec2( u, v );
}
vec3 BRDF_Lambert( const in vec3 diffuseColor ) {
	return RECIPROCAL_PI * diffuseColor;
}
vec3 F_Schlick( const in vec3 f0, const in float f90, const in float dotVH ) {
	float fresnel = exp2( ( - 5.55473 * dotVH - 6.98316 ) * dotVH );
	return f0 * ( 1.0 - fresnel ) + ( f90 * fresnel );
}
float F_Schlick( const in float f0, const in float f90, const in float dotVH ) {
	float fresnel = exp2( ( - 5.55473 * dotVH - 6.98316 ) * dotVH );
	return f0 * ( 1.0 - fresnel ) + ( f90 * fresnel );
} // validated`,D0=`#ifdef ENVMAP_TYPE_CUBE_UV
	#define cubeUV_minMipLevel 4.0
	#define cubeUV_minTileSize 16.0
	float getFace( vec3 direction ) {
		vec3 absDirection = abs( direction );
		float face = - 1.0;
		if ( absDirection.x > absDirection.z ) {
			if ( absDirection.x > absDirection.y )
				face = direction.x > 0.0 ? 0.0 : 3.0;
			else
				face = direction.y > 0.0 ? 1.0 : 4.0;
		} else {
			if ( absDirection.z > absDirection.y )
				face = direction.z > 0.0 ? 2.0 : 5.0;
			else
				face = direction.y > 0.0 ? 1.0 : 4.0;
		}
		return face;
	}
	vec2 getUV( vec3 direction, float face ) {
		vec2 uv;
		if ( face == 0.0 ) {
			uv = vec2( direction.z, direction.y ) / abs( direction.x );
		} else if ( face == 1.0 ) {
			uv = vec2( - direction.x, - direction.z ) / abs( direction.y );
		} else if ( face == 2.0 ) {
			uv = vec2( - direction.x, direction.y ) / abs( direction.z );
		} else if ( face == 3.0 ) {
			uv = vec2( - direction.z, direction.y ) / abs( direction.x );
		} else if ( face == 4.0 ) {
			uv = vec2( - direction.x, direction.z ) / abs( direction.y );
		} else {
			uv = vec2( direction.x, direction.y ) / abs( direction.z );
		}
		return 0.5 * ( uv + 1.0 );
	}
	vec3 bilinearCubeUV( sampler2D envMap, vec3 direction, float mipInt ) {
		float face = getFace( direction );
		float filterInt = max( cubeUV_minMipLevel - mipInt, 0.0 );
		mipInt = max( mipInt, cubeUV_minMipLevel );
		float faceSize = exp2( mipInt );
		highp vec2 uv = getUV( direction, face ) * ( faceSize - 2.0 ) + 1.0;
		if ( face > 2.0 ) {
			uv.y += faceSize;
			face -= 3.0;
		}
		uv.x += face * faceSize;
		uv.x += filterInt * 3.0 * cubeUV_minTileSize;
		uv.y += 4.0 * ( exp2( CUBEUV_MAX_MIP ) - faceSize );
		uv.x *= CUBEUV_TEXEL_WIDTH;
		uv.y *= CUBEUV_TEXEL_HEIGHT;
		#ifdef texture2DGradEXT
			return texture2DGradEXT( envMap, uv, vec2( 0.0 ), vec2( 0.0 ) ).rgb;
		#else
			return texture2D( envMap, uv ).rgb;
		#endif
	}
	#define cubeUV_r0 1.0
	#define cubeUV_m0 - 2.0
	#define cubeUV_r1 0.8
	#define cubeUV_m1 - 1.0
	#define cubeUV_r4 0.4
	#define cubeUV_m4 2.0
	#define cubeUV_r5 0.305
	#define cubeUV_m5 3.0
	#define cubeUV_r6 0.21
	#define cubeUV_m6 4.0
	float roughnessToMip( float roughness ) {
		float mip = 0.0;
		if ( roughness >= cubeUV_r1 ) {
			mip = ( cubeUV_r0 - roughness ) * ( cubeUV_m1 - cubeUV_m0 ) / ( cubeUV_r0 - cubeUV_r1 ) + cubeUV_m0;
		} else if ( roughness >= cubeUV_r4 ) {
			mip = ( cubeUV_r1 - roughness ) * ( cubeUV_m4 - cubeUV_m1 ) / ( cubeUV_r1 - cubeUV_r4 ) + cubeUV_m1;
		} else if ( roughness >= cubeUV_r5 ) {
			mip = ( cubeUV_r4 - roughness ) * ( cubeUV_m5 - cubeUV_m4 ) / ( cubeUV_r4 - cubeUV_r5 ) + cubeUV_m4;
		} else if ( roughness >= cubeUV_r6 ) {
			mip = ( cubeUV_r5 - roughness ) * ( cubeUV_m6 - cubeUV_m5 ) / ( cubeUV_r5 - cubeUV_r6 ) + cubeUV_m5;
		} else {
			mip = - 2.0 * log2( 1.16 * roughness );		}
		return mip;
	}
	vec4 textureCubeUV( sampler2D envMap, vec3 sampleDir, float roughness ) {
		float mip = clamp( roughnessToMip( roughness ), cubeUV_m0, CUBEUV_MAX_MIP );
		float mipF = fract( mip );
		float mipInt = floor( mip );
		vec3 color0 = bilinearCubeUV( envMap, sampleDir, mipInt );
		if ( mipF == 0.0 ) {
			return vec4( color0, 1.0 );
		} else {
			vec3 color1 = bilinearCubeUV( envMap, sampleDir, mipInt + 1.0 );
			return vec4( mix( color0, color1, mipF ), 1.0 );
		}
	}
#endif`,L0=`vec3 transformedNormal = objectNormal;
#ifdef USE_TANGENT
	vec3 transformedTangent = objectTangent;
#endif
#ifdef USE_BATCHING
	mat3 bm = mat3( batchingMatrix );
	transformedNormal /= vec3( dot( bm[ 0 ], bm[ 0 ] ), dot( bm[ 1 ], bm[ 1 ] ), dot( bm[ 2 ], bm[ 2 ] ) );
	transformedNormal = bm * transformedNormal;
	#ifdef USE_TANGENT
		transformedTangent = bm * transformedTangent;
	#endif
#endif
#ifdef USE_INSTANCING
	mat3 im = mat3( instanceMatrix );
	transformedNormal /= vec3( dot( im[ 0 ], im[ 0 ] ), dot( im[ 1 ], im[ 1 ] ), dot( im[ 2 ], im[ 2 ] ) );
	transformedNormal = im * transformedNormal;
	#ifdef USE_TANGENT
		transformedTangent = im * transformedTangent;
	#endif
#endif
transformedNormal = normalMatrix * transformedNormal;
#ifdef FLIP_SIDED
	transformedNormal = - transformedNormal;
#endif
#ifdef USE_TANGENT
	transformedTangent = ( modelViewMatrix * vec4( transformedTangent, 0.0 ) ).xyz;
	#ifdef FLIP_SIDED
		transformedTangent = - transformedTangent;
	#endif
#endif`,N0=`#ifdef USE_DISPLACEMENTMAP
	uniform sampler2D displacementMap;
	uniform float displacementScale;
	uniform float displacementBias;
#endif`,U0=`#ifdef USE_DISPLACEMENTMAP
	transformed += normalize( objectNormal ) * ( texture2D( displacementMap, vDisplacementMapUv ).x * displacementScale + displacementBias );
#endif`,I0=`#ifdef USE_EMISSIVEMAP
	vec4 emissiveColor = texture2D( emissiveMap, vEmissiveMapUv );
	#ifdef DECODE_VIDEO_TEXTURE_EMISSIVE
		emissiveColor = sRGBTransferEOTF( emissiveColor );
	#endif
	totalEmissiveRadiance *= emissiveColor.rgb;
#endif`,k0=`#ifdef USE_EMISSIVEMAP
	uniform sampler2D emissiveMap;
#endif`,F0="gl_FragColor = linearToOutputTexel( gl_FragColor );",O0=`vec4 LinearTransferOETF( in vec4 value ) {
	return value;
}
vec4 sRGBTransferEOTF( in vec4 value ) {
	return vec4( mix( pow( value.rgb * 0.9478672986 + vec3( 0.0521327014 ), vec3( 2.4 ) ), value.rgb * 0.0773993808, vec3( lessThanEqual( value.rgb, vec3( 0.04045 ) ) ) ), value.a );
}
vec4 sRGBTransferOETF( in vec4 value ) {
	return vec4( mix( pow( value.rgb, vec3( 0.41666 ) ) * 1.055 - vec3( 0.055 ), value.rgb * 12.92, vec3( lessThanEqual( value.rgb, vec3( 0.0031308 ) ) ) ), value.a );
}`,B0=`#ifdef USE_ENVMAP
	#ifdef ENV_WORLDPOS
		vec3 cameraToFrag;
		if ( isOrthographic ) {
			cameraToFrag = normalize( vec3( - viewMatrix[ 0 ][ 2 ], - viewMatrix[ 1 ][ 2 ], - viewMatrix[ 2 ][ 2 ] ) );
		} else {
			cameraToFrag = normalize( vWorldPosition - cameraPosition );
		}
		vec3 worldNormal = inverseTransformDirection( normal, viewMatrix );
		#ifdef ENVMAP_MODE_REFLECTION
			vec3 reflectVec = reflect( cameraToFrag, worldNormal );
		#else
			vec3 reflectVec = refract( cameraToFrag, worldNormal, refractionRatio );
		#endif
	#else
		vec3 reflectVec = vReflect;
	#endif
	#ifdef ENVMAP_TYPE_CUBE
		vec4 envColor = textureCube( envMap, envMapRotation * vec3( flipEnvMap * reflectVec.x, reflectVec.yz ) );
	#else
		vec4 envColor = vec4( 0.0 );
	#endif
	#ifdef ENVMAP_BLENDING_MULTIPLY
		outgoingLight = mix( outgoingLight, outgoingLight * envColor.xyz, specularStrength * reflectivity );
	#elif defined( ENVMAP_BLENDING_MIX )
		outgoingLight = mix( outgoingLight, envColor.xyz, specularStrength * reflectivity );
	#elif defined( ENVMAP_BLENDING_ADD )
		outgoingLight += envColor.xyz * specularStrength * reflectivity;
	#endif
#endif`,z0=`#ifdef USE_ENVMAP
	uniform float envMapIntensity;
	uniform float flipEnvMap;
	uniform mat3 envMapRotation;
	#ifdef ENVMAP_TYPE_CUBE
		uniform samplerCube envMap;
	#else
		uniform sampler2D envMap;
	#endif
	
#endif`,H0=`#ifdef USE_ENVMAP
	uniform float reflectivity;
	#if defined( USE_BUMPMAP ) || defined( USE_NORMALMAP ) || defined( PHONG ) || defined( LAMBERT )
		#define ENV_WORLDPOS
	#endif
	#ifdef ENV_WORLDPOS
		varying vec3 vWorldPosition;
		uniform float refractionRatio;
	#else
		varying vec3 vReflect;
	#endif
#endif`,V0=`#ifdef USE_ENVMAP
	#if defined( USE_BUMPMAP ) || defined( USE_NORMALMAP ) || defined( PHONG ) || defined( LAMBERT )
		#define ENV_WORLDPOS
	#endif
	#ifdef ENV_WORLDPOS
		
		varying vec3 vWorldPosition;
	#else
		varying vec3 vReflect;
		uniform float refractionRatio;
	#endif
#endif`,G0=`#ifdef USE_ENVMAP
	#ifdef ENV_WORLDPOS
		vWorldPosition = worldPosition.xyz;
	#else
		vec3 cameraToVertex;
		if ( isOrthographic ) {
			cameraToVertex = normalize( vec3( - viewMatrix[ 0 ][ 2 ], - viewMatrix[ 1 ][ 2 ], - viewMatrix[ 2 ][ 2 ] ) );
		} else {
			cameraToVertex = normalize( worldPosition.xyz - cameraPosition );
		}
		vec3 worldNormal = inverseTransformDirection( transformedNormal, viewMatrix );
		#ifdef ENVMAP_MODE_REFLECTION
			vReflect = reflect( cameraToVertex, worldNormal );
		#else
			vReflect = refract( cameraToVertex, worldNormal, refractionRatio );
		#endif
	#endif
#endif`,W0=`#ifdef USE_FOG
	vFogDepth = - mvPosition.z;
#endif`,$0=`#ifdef USE_FOG
	varying float vFogDepth;
#endif`,X0=`#ifdef USE_FOG
	#ifdef FOG_EXP2
		float fogFactor = 1.0 - exp( - fogDensity * fogDensity * vFogDepth * vFogDepth );
	#else
		float fogFactor = smoothstep( fogNear, fogFar, vFogDepth );
	#endif
	gl_FragColor.rgb = mix( gl_FragColor.rgb, fogColor, fogFactor );
#endif`,q0=`#ifdef USE_FOG
	uniform vec3 fogColor;
	varying float vFogDepth;
	#ifdef FOG_EXP2
		uniform float fogDensity;
	#else
		uniform float fogNear;
		uniform float fogFar;
	#endif
#endif`,Y0=`#ifdef USE_GRADIENTMAP
	uniform sampler2D gradientMap;
#endif
vec3 getGradientIrradiance( vec3 normal, vec3 lightDirection ) {
	float dotNL = dot( normal, lightDirection );
	vec2 coord = vec2( dotNL * 0.5 + 0.5, 0.0 );
	#ifdef USE_GRADIENTMAP
		return vec3( texture2D( gradientMap, coord ).r );
	#else
		vec2 fw = fwidth( coord ) * 0.5;
		return mix( vec3( 0.7 ), vec3( 1.0 ), smoothstep( 0.7 - fw.x, 0.7 + fw.x, coord.x ) );
	#endif
}`,j0=`#ifdef USE_LIGHTMAP
	uniform sampler2D lightMap;
	uniform float lightMapIntensity;
#endif`,Z0=`LambertMaterial material;
material.diffuseColor = diffuseColor.rgb;
material.specularStrength = specularStrength;`,K0=`varying vec3 vViewPosition;
struct LambertMaterial {
	vec3 diffuseColor;
	float specularStrength;
};
void RE_Direct_Lambert( const in IncidentLight directLight, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in LambertMaterial material, inout ReflectedLight reflectedLight ) {
	float dotNL = saturate( dot( geometryNormal, directLight.direction ) );
	vec3 irradiance = dotNL * directLight.color;
	reflectedLight.directDiffuse += irradiance * BRDF_Lambert( material.diffuseColor );
}
void RE_IndirectDiffuse_Lambert( const in vec3 irradiance, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in LambertMaterial material, inout ReflectedLight reflectedLight ) {
	reflectedLight.indirectDiffuse += irradiance * BRDF_Lambert( material.diffuseColor );
}
#define RE_Direct				RE_Direct_Lambert
#define RE_IndirectDiffuse		RE_IndirectDiffuse_Lambert`,J0=`uniform bool receiveShadow;
uniform vec3 ambientLightColor;
#if defined( USE_LIGHT_PROBES )
	uniform vec3 lightProbe[ 9 ];
#endif
vec3 shGetIrradianceAt( in vec3 normal, in vec3 shCoefficients[ 9 ] ) {
	float x = normal.x, y = normal.y, z = normal.z;
	vec3 result = shCoefficients[ 0 ] * 0.886227;
	result += shCoefficients[ 1 ] * 2.0 * 0.511664 * y;
	result += shCoefficients[ 2 ] * 2.0 * 0.511664 * z;
	result += shCoefficients[ 3 ] * 2.0 * 0.511664 * x;
	result += shCoefficients[ 4 ] * 2.0 * 0.429043 * x * y;
	result += shCoefficients[ 5 ] * 2.0 * 0.429043 * y * z;
	result += shCoefficients[ 6 ] * ( 0.743125 * z * z - 0.247708 );
	result += shCoefficients[ 7 ] * 2.0 * 0.429043 * x * z;
	result += shCoefficients[ 8 ] * 0.429043 * ( x * x - y * y );
	return result;
}
vec3 getLightProbeIrradiance( const in vec3 lightProbe[ 9 ], const in vec3 normal ) {
	vec3 worldNormal = inverseTransformDirection( normal, viewMatrix );
	vec3 irradiance = shGetIrradianceAt( worldNormal, lightProbe );
	return irradiance;
}
vec3 getAmbientLightIrradiance( const in vec3 ambientLightColor ) {
	vec3 irradiance = ambientLightColor;
	return irradiance;
}
float getDistanceAttenuation( const in float lightDistance, const in float cutoffDistance, const in float decayExponent ) {
	float distanceFalloff = 1.0 / max( pow( lightDistance, decayExponent ), 0.01 );
	if ( cutoffDistance > 0.0 ) {
		distanceFalloff *= pow2( saturate( 1.0 - pow4( lightDistance / cutoffDistance ) ) );
	}
	return distanceFalloff;
}
float getSpotAttenuation( const in float coneCosine, const in float penumbraCosine, const in float angleCosine ) {
	return smoothstep( coneCosine, penumbraCosine, angleCosine );
}
#if NUM_DIR_LIGHTS > 0
	struct DirectionalLight {
		vec3 direction;
		vec3 color;
	};
	uniform DirectionalLight directionalLights[ NUM_DIR_LIGHTS ];
	void getDirectionalLightInfo( const in DirectionalLight directionalLight, out IncidentLight light ) {
		light.color = directionalLight.color;
		light.direction = directionalLight.direction;
		light.visible = true;
	}
#endif
#if NUM_POINT_LIGHTS > 0
	struct PointLight {
		vec3 position;
		vec3 color;
		float distance;
		float decay;
	};
	uniform PointLight pointLights[ NUM_POINT_LIGHTS ];
	void getPointLightInfo( const in PointLight pointLight, const in vec3 geometryPosition, out IncidentLight light ) {
		vec3 lVector = pointLight.position - geometryPosition;
		light.direction = normalize( lVector );
		float lightDistance = length( lVector );
		light.color = pointLight.color;
		light.color *= getDistanceAttenuation( lightDistance, pointLight.distance, pointLight.decay );
		light.visible = ( light.color != vec3( 0.0 ) );
	}
#endif
#if NUM_SPOT_LIGHTS > 0
	struct SpotLight {
		vec3 position;
		vec3 direction;
		vec3 color;
		float distance;
		float decay;
		float coneCos;
		float penumbraCos;
	};
	uniform SpotLight spotLights[ NUM_SPOT_LIGHTS ];
	void getSpotLightInfo( const in SpotLight spotLight, const in vec3 geometryPosition, out IncidentLight light ) {
		vec3 lVector = spotLight.position - geometryPosition;
		light.direction = normalize( lVector );
		float angleCos = dot( light.direction, spotLight.direction );
		float spotAttenuation = getSpotAttenuation( spotLight.coneCos, spotLight.penumbraCos, angleCos );
		if ( spotAttenuation > 0.0 ) {
			float lightDistance = length( lVector );
			light.color = spotLight.color * spotAttenuation;
			light.color *= getDistanceAttenuation( lightDistance, spotLight.distance, spotLight.decay );
			light.visible = ( light.color != vec3( 0.0 ) );
		} else {
			light.color = vec3( 0.0 );
			light.visible = false;
		}
	}
#endif
#if NUM_RECT_AREA_LIGHTS > 0
	struct RectAreaLight {
		vec3 color;
		vec3 position;
		vec3 halfWidth;
		vec3 halfHeight;
	};
	uniform sampler2D ltc_1;	uniform sampler2D ltc_2;
	uniform RectAreaLight rectAreaLights[ NUM_RECT_AREA_LIGHTS ];
#endif
#if NUM_HEMI_LIGHTS > 0
	struct HemisphereLight {
		vec3 direction;
		vec3 skyColor;
		vec3 groundColor;
	};
	uniform HemisphereLight hemisphereLights[ NUM_HEMI_LIGHTS ];
	vec3 getHemisphereLightIrradiance( const in HemisphereLight hemiLight, const in vec3 normal ) {
		float dotNL = dot( normal, hemiLight.direction );
		float hemiDiffuseWeight = 0.5 * dotNL + 0.5;
		vec3 irradiance = mix( hemiLight.groundColor, hemiLight.skyColor, hemiDiffuseWeight );
		return irradiance;
	}
#endif`,Q0=`#ifdef USE_ENVMAP
	vec3 getIBLIrradiance( const in vec3 normal ) {
		#ifdef ENVMAP_TYPE_CUBE_UV
			vec3 worldNormal = inverseTransformDirection( normal, viewMatrix );
			vec4 envMapColor = textureCubeUV( envMap, envMapRotation * worldNormal, 1.0 );
			return PI * envMapColor.rgb * envMapIntensity;
		#else
			return vec3( 0.0 );
		#endif
	}
	vec3 getIBLRadiance( const in vec3 viewDir, const in vec3 normal, const in float roughness ) {
		#ifdef ENVMAP_TYPE_CUBE_UV
			vec3 reflectVec = reflect( - viewDir, normal );
			reflectVec = normalize( mix( reflectVec, normal, roughness * roughness) );
			reflectVec = inverseTransformDirection( reflectVec, viewMatrix );
			vec4 envMapColor = textureCubeUV( envMap, envMapRotation * reflectVec, roughness );
			return envMapColor.rgb * envMapIntensity;
		#else
			return vec3( 0.0 );
		#endif
	}
	#ifdef USE_ANISOTROPY
		vec3 getIBLAnisotropyRadiance( const in vec3 viewDir, const in vec3 normal, const in float roughness, const in vec3 bitangent, const in float anisotropy ) {
			#ifdef ENVMAP_TYPE_CUBE_UV
				vec3 bentNormal = cross( bitangent, viewDir );
				bentNormal = normalize( cross( bentNormal, bitangent ) );
				bentNormal = normalize( mix( bentNormal, normal, pow2( pow2( 1.0 - anisotropy * ( 1.0 - roughness ) ) ) ) );
				return getIBLRadiance( viewDir, bentNormal, roughness );
			#else
				return vec3( 0.0 );
			#endif
		}
	#endif
#endif`,ev=`ToonMaterial material;
material.diffuseColor = diffuseColor.rgb;`,tv=`varying vec3 vViewPosition;
struct ToonMaterial {
	vec3 diffuseColor;
};
void RE_Direct_Toon( const in IncidentLight directLight, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in ToonMaterial material, inout ReflectedLight reflectedLight ) {
	vec3 irradiance = getGradientIrradiance( geometryNormal, directLight.direction ) * directLight.color;
	reflectedLight.directDiffuse += irradiance * BRDF_Lambert( material.diffuseColor );
}
void RE_IndirectDiffuse_Toon( const in vec3 irradiance, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in ToonMaterial material, inout ReflectedLight reflectedLight ) {
	reflectedLight.indirectDiffuse += irradiance * BRDF_Lambert( material.diffuseColor );
}
#define RE_Direct				RE_Direct_Toon
#define RE_IndirectDiffuse		RE_IndirectDiffuse_Toon`,nv=`BlinnPhongMaterial material;
material.diffuseColor = diffuseColor.rgb;
material.specularColor = specular;
material.specularShininess = shininess;
material.specularStrength = specularStrength;`,iv=`varying vec3 vViewPosition;
struct BlinnPhongMaterial {
	vec3 diffuseColor;
	vec3 specularColor;
	float specularShininess;
	float specularStrength;
};
void RE_Direct_BlinnPhong( const in IncidentLight directLight, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in BlinnPhongMaterial material, inout ReflectedLight reflectedLight ) {
	float dotNL = saturate( dot( geometryNormal, directLight.direction ) );
	vec3 irradiance = dotNL * directLight.color;
	reflectedLight.directDiffuse += irradiance * BRDF_Lambert( material.diffuseColor );
	reflectedLight.directSpecular += irradiance * BRDF_BlinnPhong( directLight.direction, geometryViewDir, geometryNormal, material.specularColor, material.specularShininess ) * material.specularStrength;
}
void RE_IndirectDiffuse_BlinnPhong( const in vec3 irradiance, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in BlinnPhongMaterial material, inout ReflectedLight reflectedLight ) {
	reflectedLight.indirectDiffuse += irradiance * BRDF_Lambert( material.diffuseColor );
}
#define RE_Direct				RE_Direct_BlinnPhong
#define RE_IndirectDiffuse		RE_IndirectDiffuse_BlinnPhong`,rv=`PhysicalMaterial material;
material.diffuseColor = diffuseColor.rgb * ( 1.0 - metalnessFactor );
vec3 dxy = max( abs( dFdx( nonPerturbedNormal ) ), abs( dFdy( nonPerturbedNormal ) ) );
float geometryRoughness = max( max( dxy.x, dxy.y ), dxy.z );
material.roughness = max( roughnessFactor, 0.0525 );material.roughness += geometryRoughness;
material.roughness = min( material.roughness, 1.0 );
#ifdef IOR
	material.ior = ior;
	#ifdef USE_SPECULAR
		float specularIntensityFactor = specularIntensity;
		vec3 specularColorFactor = specularColor;
		#ifdef USE_SPECULAR_COLORMAP
			specularColorFactor *= texture2D( specularColorMap, vSpecularColorMapUv ).rgb;
		#endif
		#ifdef USE_SPECULAR_INTENSITYMAP
			specularIntensityFactor *= texture2D( specularIntensityMap, vSpecularIntensityMapUv ).a;
		#endif
		material.specularF90 = mix( specularIntensityFactor, 1.0, metalnessFactor );
	#else
		float specularIntensityFactor = 1.0;
		vec3 specularColorFactor = vec3( 1.0 );
		material.specularF90 = 1.0;
	#endif
	material.specularColor = mix( min( pow2( ( material.ior - 1.0 ) / ( material.ior + 1.0 ) ) * specularColorFactor, vec3( 1.0 ) ) * specularIntensityFactor, diffuseColor.rgb, metalnessFactor );
#else
	material.specularColor = mix( vec3( 0.04 ), diffuseColor.rgb, metalnessFactor );
	material.specularF90 = 1.0;
#endif
#ifdef USE_CLEARCOAT
	material.clearcoat = clearcoat;
	material.clearcoatRoughness = clearcoatRoughness;
	material.clearcoatF0 = vec3( 0.04 );
	material.clearcoatF90 = 1.0;
	#ifdef USE_CLEARCOATMAP
		material.clearcoat *= texture2D( clearcoatMap, vClearcoatMapUv ).x;
	#endif
	#ifdef USE_CLEARCOAT_ROUGHNESSMAP
		material.clearcoatRoughness *= texture2D( clearcoatRoughnessMap, vClearcoatRoughnessMapUv ).y;
	#endif
	material.clearcoat = saturate( material.clearcoat );	material.clearcoatRoughness = max( material.clearcoatRoughness, 0.0525 );
	material.clearcoatRoughness += geometryRoughness;
	material.clearcoatRoughness = min( material.clearcoatRoughness, 1.0 );
#endif
#ifdef USE_DISPERSION
	material.dispersion = dispersion;
#endif
#ifdef USE_IRIDESCENCE
	material.iridescence = iridescence;
	material.iridescenceIOR = iridescenceIOR;
	#ifdef USE_IRIDESCENCEMAP
		material.iridescence *= texture2D( iridescenceMap, vIridescenceMapUv ).r;
	#endif
	#ifdef USE_IRIDESCENCE_THICKNESSMAP
		material.iridescenceThickness = (iridescenceThicknessMaximum - iridescenceThicknessMinimum) * texture2D( iridescenceThicknessMap, vIridescenceThicknessMapUv ).g + iridescenceThicknessMinimum;
	#else
		material.iridescenceThickness = iridescenceThicknessMaximum;
	#endif
#endif
#ifdef USE_SHEEN
	material.sheenColor = sheenColor;
	#ifdef USE_SHEEN_COLORMAP
		material.sheenColor *= texture2D( sheenColorMap, vSheenColorMapUv ).rgb;
	#endif
	material.sheenRoughness = clamp( sheenRoughness, 0.07, 1.0 );
	#ifdef USE_SHEEN_ROUGHNESSMAP
		material.sheenRoughness *= texture2D( sheenRoughnessMap, vSheenRoughnessMapUv ).a;
	#endif
#endif
#ifdef USE_ANISOTROPY
	#ifdef USE_ANISOTROPYMAP
		mat2 anisotropyMat = mat2( anisotropyVector.x, anisotropyVector.y, - anisotropyVector.y, anisotropyVector.x );
		vec3 anisotropyPolar = texture2D( anisotropyMap, vAnisotropyMapUv ).rgb;
		vec2 anisotropyV = anisotropyMat * normalize( 2.0 * anisotropyPolar.rg - vec2( 1.0 ) ) * anisotropyPolar.b;
	#else
		vec2 anisotropyV = anisotropyVector;
	#endif
	material.anisotropy = length( anisotropyV );
	if( material.anisotropy == 0.0 ) {
		anisotropyV = vec2( 1.0, 0.0 );
	} else {
		anisotropyV /= material.anisotropy;
		material.anisotropy = saturate( material.anisotropy );
	}
	material.alphaT = mix( pow2( material.roughness ), 1.0, pow2( material.anisotropy ) );
	material.anisotropyT = tbn[ 0 ] * anisotropyV.x + tbn[ 1 ] * anisotropyV.y;
	material.anisotropyB = tbn[ 1 ] * anisotropyV.x - tbn[ 0 ] * anisotropyV.y;
#endif`,sv=`struct PhysicalMaterial {
	vec3 diffuseColor;
	float roughness;
	vec3 specularColor;
	float specularF90;
	float dispersion;
	#ifdef USE_CLEARCOAT
		float clearcoat;
		float clearcoatRoughness;
		vec3 clearcoatF0;
		float clearcoatF90;
	#endif
	#ifdef USE_IRIDESCENCE
		float iridescence;
		float iridescenceIOR;
		float iridescenceThickness;
		vec3 iridescenceFresnel;
		vec3 iridescenceF0;
	#endif
	#ifdef USE_SHEEN
		vec3 sheenColor;
		float sheenRoughness;
	#endif
	#ifdef IOR
		float ior;
	#endif
	#ifdef USE_TRANSMISSION
		float transmission;
		float transmissionAlpha;
		float thickness;
		float attenuationDistance;
		vec3 attenuationColor;
	#endif
	#ifdef USE_ANISOTROPY
		float anisotropy;
		float alphaT;
		vec3 anisotropyT;
		vec3 anisotropyB;
	#endif
};
vec3 clearcoatSpecularDirect = vec3( 0.0 );
vec3 clearcoatSpecularIndirect = vec3( 0.0 );
vec3 sheenSpecularDirect = vec3( 0.0 );
vec3 sheenSpecularIndirect = vec3(0.0 );
vec3 Schlick_to_F0( const in vec3 f, const in float f90, const in float dotVH ) {
    float x = clamp( 1.0 - dotVH, 0.0, 1.0 );
    float x2 = x * x;
    float x5 = clamp( x * x2 * x2, 0.0, 0.9999 );
    return ( f - vec3( f90 ) * x5 ) / ( 1.0 - x5 );
}
float V_GGX_SmithCorrelated( const in float alpha, const in float dotNL, const in float dotNV ) {
	float a2 = pow2( alpha );
	float gv = dotNL * sqrt( a2 + ( 1.0 - a2 ) * pow2( dotNV ) );
	float gl = dotNV * sqrt( a2 + ( 1.0 - a2 ) * pow2( dotNL ) );
	return 0.5 / max( gv + gl, EPSILON );
}
float D_GGX( const in float alpha, const in float dotNH ) {
	float a2 = pow2( alpha );
	float denom = pow2( dotNH ) * ( a2 - 1.0 ) + 1.0;
	return RECIPROCAL_PI * a2 / pow2( denom );
}
#ifdef USE_ANISOTROPY
	float V_GGX_SmithCorrelated_Anisotropic( const in float alphaT, const in float alphaB, const in float dotTV, const in float dotBV, const in float dotTL, const in float dotBL, const in float dotNV, const in float dotNL ) {
		float gv = dotNL * length( vec3( alphaT * dotTV, alphaB * dotBV, dotNV ) );
		float gl = dotNV * length( vec3( alphaT * dotTL, alphaB * dotBL, dotNL ) );
		float v = 0.5 / ( gv + gl );
		return saturate(v);
	}
	float D_GGX_Anisotropic( const in float alphaT, const in float alphaB, const in float dotNH, const in float dotTH, const in float dotBH ) {
		float a2 = alphaT * alphaB;
		highp vec3 v = vec3( alphaB * dotTH, alphaT * dotBH, a2 * dotNH );
		highp float v2 = dot( v, v );
		float w2 = a2 / v2;
		return RECIPROCAL_PI * a2 * pow2 ( w2 );
	}
#endif
#ifdef USE_CLEARCOAT
	vec3 BRDF_GGX_Clearcoat( const in vec3 lightDir, const in vec3 viewDir, const in vec3 normal, const in PhysicalMaterial material) {
		vec3 f0 = material.clearcoatF0;
		float f90 = material.clearcoatF90;
		float roughness = material.clearcoatRoughness;
		float alpha = pow2( roughness );
		vec3 halfDir = normalize( lightDir + viewDir );
		float dotNL = saturate( dot( normal, lightDir ) );
		float dotNV = saturate( dot( normal, viewDir ) );
		float dotNH = saturate( dot( normal, halfDir ) );
		float dotVH = saturate( dot( viewDir, halfDir ) );
		vec3 F = F_Schlick( f0, f90, dotVH );
		float V = V_GGX_SmithCorrelated( alpha, dotNL, dotNV );
		float D = D_GGX( alpha, dotNH );
		return F * ( V * D );
	}
#endif
vec3 BRDF_GGX( const in vec3 lightDir, const in vec3 viewDir, const in vec3 normal, const in PhysicalMaterial material ) {
	vec3 f0 = material.specularColor;
	float f90 = material.specularF90;
	float roughness = material.roughness;
	float alpha = pow2( roughness );
	vec3 halfDir = normalize( lightDir + viewDir );
	float dotNL = saturate( dot( normal, lightDir ) );
	float dotNV = saturate( dot( normal, viewDir ) );
	float dotNH = saturate( dot( normal, halfDir ) );
	float dotVH = saturate( dot( viewDir, halfDir ) );
	vec3 F = F_Schlick( f0, f90, dotVH );
	#ifdef USE_IRIDESCENCE
		F = mix( F, material.iridescenceFresnel, material.iridescence );
	#endif
	#ifdef USE_ANISOTROPY
		float dotTL = dot( material.anisotropyT, lightDir );
		float dotTV = dot( material.anisotropyT, viewDir );
		float dotTH = dot( material.anisotropyT, halfDir );
		float dotBL = dot( material.anisotropyB, lightDir );
		float dotBV = dot( material.anisotropyB, viewDir );
		float dotBH = dot( material.anisotropyB, halfDir );
		float V = V_GGX_SmithCorrelated_Anisotropic( material.alphaT, alpha, dotTV, dotBV, dotTL, dotBL, dotNV, dotNL );
		float D = D_GGX_Anisotropic( material.alphaT, alpha, dotNH, dotTH, dotBH );
	#else
		float V = V_GGX_SmithCorrelated( alpha, dotNL, dotNV );
		float D = D_GGX( alpha, dotNH );
	#endif
	return F * ( V * D );
}
vec2 LTC_Uv( const in vec3 N, const in vec3 V, const in float roughness ) {
	const float LUT_SIZE = 64.0;
	const float LUT_SCALE = ( LUT_SIZE - 1.0 ) / LUT_SIZE;
	const float LUT_BIAS = 0.5 / LUT_SIZE;
	float dotNV = saturate( dot( N, V ) );
	vec2 uv = vec2( roughness, sqrt( 1.0 - dotNV ) );
	uv = uv * LUT_SCALE + LUT_BIAS;
	return uv;
}
float LTC_ClippedSphereFormFactor( const in vec3 f ) {
	float l = length( f );
	return max( ( l * l + f.z ) / ( l + 1.0 ), 0.0 );
}
vec3 LTC_EdgeVectorFormFactor( const in vec3 v1, const in vec3 v2 ) {
	float x = dot( v1, v2 );
	float y = abs( x );
	float a = 0.8543985 + ( 0.4965155 + 0.0145206 * y ) * y;
	float b = 3.4175940 + ( 4.1616724 + y ) * y;
	float v = a / b;
	float theta_sintheta = ( x > 0.0 ) ? v : 0.5 * inversesqrt( max( 1.0 - x * x, 1e-7 ) ) - v;
	return cross( v1, v2 ) * theta_sintheta;
}
vec3 LTC_Evaluate( const in vec3 N, const in vec3 V, const in vec3 P, const in mat3 mInv, const in vec3 rectCoords[ 4 ] ) {
	vec3 v1 = rectCoords[ 1 ] - rectCoords[ 0 ];
	vec3 v2 = rectCoords[ 3 ] - rectCoords[ 0 ];
	vec3 lightNormal = cross( v1, v2 );
	if( dot( lightNormal, P - rectCoords[ 0 ] ) < 0.0 ) return vec3( 0.0 );
	vec3 T1, T2;
	T1 = normalize( V - N * dot( V, N ) );
	T2 = - cross( N, T1 );
	mat3 mat = mInv * transposeMat3( mat3( T1, T2, N ) );
	vec3 coords[ 4 ];
	coords[ 0 ] = mat * ( rectCoords[ 0 ] - P );
	coords[ 1 ] = mat * ( rectCoords[ 1 ] - P );
	coords[ 2 ] = mat * ( rectCoords[ 2 ] - P );
	coords[ 3 ] = mat * ( rectCoords[ 3 ] - P );
	coords[ 0 ] = normalize( coords[ 0 ] );
	coords[ 1 ] = normalize( coords[ 1 ] );
	coords[ 2 ] = normalize( coords[ 2 ] );
	coords[ 3 ] = normalize( coords[ 3 ] );
	vec3 vectorFormFactor = vec3( 0.0 );
	vectorFormFactor += LTC_EdgeVectorFormFactor( coords[ 0 ], coords[ 1 ] );
	vectorFormFactor += LTC_EdgeVectorFormFactor( coords[ 1 ], coords[ 2 ] );
	vectorFormFactor += LTC_EdgeVectorFormFactor( coords[ 2 ], coords[ 3 ] );
	vectorFormFactor += LTC_EdgeVectorFormFactor( coords[ 3 ], coords[ 0 ] );
	float result = LTC_ClippedSphereFormFactor( vectorFormFactor );
	return vec3( result );
}
#if defined( USE_SHEEN )
float D_Charlie( float roughness, float dotNH ) {
	float alpha = pow2( roughness );
	float invAlpha = 1.0 / alpha;
	float cos2h = dotNH * dotNH;
	float sin2h = max( 1.0 - cos2h, 0.0078125 );
	return ( 2.0 + invAlpha ) * pow( sin2h, invAlpha * 0.5 ) / ( 2.0 * PI );
}
float V_Neubelt( float dotNV, float dotNL ) {
	return saturate( 1.0 / ( 4.0 * ( dotNL + dotNV - dotNL * dotNV ) ) );
}
vec3 BRDF_Sheen( const in vec3 lightDir, const in vec3 viewDir, const in vec3 normal, vec3 sheenColor, const in float sheenRoughness ) {
	vec3 halfDir = normalize( lightDir + viewDir );
	float dotNL = saturate( dot( normal, lightDir ) );
	float dotNV = saturate( dot( normal, viewDir ) );
	float dotNH = saturate( dot( normal, halfDir ) );
	float D = D_Charlie( sheenRoughness, dotNH );
	float V = V_Neubelt( dotNV, dotNL );
	return sheenColor * ( D * V );
}
#endif
float IBLSheenBRDF( const in vec3 normal, const in vec3 viewDir, const in float roughness ) {
	float dotNV = saturate( dot( normal, viewDir ) );
	float r2 = roughness * roughness;
	float a = roughness < 0.25 ? -339.2 * r2 + 161.4 * roughness - 25.9 : -8.48 * r2 + 14.3 * roughness - 9.95;
	float b = roughness < 0.25 ? 44.0 * r2 - 23.7 * roughness + 3.26 : 1.97 * r2 - 3.27 * roughness + 0.72;
	float DG = exp( a * dotNV + b ) + ( roughness < 0.25 ? 0.0 : 0.1 * ( roughness - 0.25 ) );
	return saturate( DG * RECIPROCAL_PI );
}
vec2 DFGApprox( const in vec3 normal, const in vec3 viewDir, const in float roughness ) {
	float dotNV = saturate( dot( normal, viewDir ) );
	const vec4 c0 = vec4( - 1, - 0.0275, - 0.572, 0.022 );
	const vec4 c1 = vec4( 1, 0.0425, 1.04, - 0.04 );
	vec4 r = roughness * c0 + c1;
	float a004 = min( r.x * r.x, exp2( - 9.28 * dotNV ) ) * r.x + r.y;
	vec2 fab = vec2( - 1.04, 1.04 ) * a004 + r.zw;
	return fab;
}
vec3 EnvironmentBRDF( const in vec3 normal, const in vec3 viewDir, const in vec3 specularColor, const in float specularF90, const in float roughness ) {
	vec2 fab = DFGApprox( normal, viewDir, roughness );
	return specularColor * fab.x + specularF90 * fab.y;
}
#ifdef USE_IRIDESCENCE
void computeMultiscatteringIridescence( const in vec3 normal, const in vec3 viewDir, const in vec3 specularColor, const in float specularF90, const in float iridescence, const in vec3 iridescenceF0, const in float roughness, inout vec3 singleScatter, inout vec3 multiScatter ) {
#else
void computeMultiscattering( const in vec3 normal, const in vec3 viewDir, const in vec3 specularColor, const in float specularF90, const in float roughness, inout vec3 singleScatter, inout vec3 multiScatter ) {
#endif
	vec2 fab = DFGApprox( normal, viewDir, roughness );
	#ifdef USE_IRIDESCENCE
		vec3 Fr = mix( specularColor, iridescenceF0, iridescence );
	#else
		vec3 Fr = specularColor;
	#endif
	vec3 FssEss = Fr * fab.x + specularF90 * fab.y;
	float Ess = fab.x + fab.y;
	float Ems = 1.0 - Ess;
	vec3 Favg = Fr + ( 1.0 - Fr ) * 0.047619;	vec3 Fms = FssEss * Favg / ( 1.0 - Ems * Favg );
	singleScatter += FssEss;
	multiScatter += Fms * Ems;
}
#if NUM_RECT_AREA_LIGHTS > 0
	void RE_Direct_RectArea_Physical( const in RectAreaLight rectAreaLight, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in PhysicalMaterial material, inout ReflectedLight reflectedLight ) {
		vec3 normal = geometryNormal;
		vec3 viewDir = geometryViewDir;
		vec3 position = geometryPosition;
		vec3 lightPos = rectAreaLight.position;
		vec3 halfWidth = rectAreaLight.halfWidth;
		vec3 halfHeight = rectAreaLight.halfHeight;
		vec3 lightColor = rectAreaLight.color;
		float roughness = material.roughness;
		vec3 rectCoords[ 4 ];
		rectCoords[ 0 ] = lightPos + halfWidth - halfHeight;		rectCoords[ 1 ] = lightPos - halfWidth - halfHeight;
		rectCoords[ 2 ] = lightPos - halfWidth + halfHeight;
		rectCoords[ 3 ] = lightPos + halfWidth + halfHeight;
		vec2 uv = LTC_Uv( normal, viewDir, roughness );
		vec4 t1 = texture2D( ltc_1, uv );
		vec4 t2 = texture2D( ltc_2, uv );
		mat3 mInv = mat3(
			vec3( t1.x, 0, t1.y ),
			vec3(    0, 1,    0 ),
			vec3( t1.z, 0, t1.w )
		);
		vec3 fresnel = ( material.specularColor * t2.x + ( vec3( 1.0 ) - material.specularColor ) * t2.y );
		reflectedLight.directSpecular += lightColor * fresnel * LTC_Evaluate( normal, viewDir, position, mInv, rectCoords );
		reflectedLight.directDiffuse += lightColor * material.diffuseColor * LTC_Evaluate( normal, viewDir, position, mat3( 1.0 ), rectCoords );
	}
#endif
void RE_Direct_Physical( const in IncidentLight directLight, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in PhysicalMaterial material, inout ReflectedLight reflectedLight ) {
	float dotNL = saturate( dot( geometryNormal, directLight.direction ) );
	vec3 irradiance = dotNL * directLight.color;
	#ifdef USE_CLEARCOAT
		float dotNLcc = saturate( dot( geometryClearcoatNormal, directLight.direction ) );
		vec3 ccIrradiance = dotNLcc * directLight.color;
		clearcoatSpecularDirect += ccIrradiance * BRDF_GGX_Clearcoat( directLight.direction, geometryViewDir, geometryClearcoatNormal, material );
	#endif
	#ifdef USE_SHEEN
		sheenSpecularDirect += irradiance * BRDF_Sheen( directLight.direction, geometryViewDir, geometryNormal, material.sheenColor, material.sheenRoughness );
	#endif
	reflectedLight.directSpecular += irradiance * BRDF_GGX( directLight.direction, geometryViewDir, geometryNormal, material );
	reflectedLight.directDiffuse += irradiance * BRDF_Lambert( material.diffuseColor );
}
void RE_IndirectDiffuse_Physical( const in vec3 irradiance, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in PhysicalMaterial material, inout ReflectedLight reflectedLight ) {
	reflectedLight.indirectDiffuse += irradiance * BRDF_Lambert( material.diffuseColor );
}
void RE_IndirectSpecular_Physical( const in vec3 radiance, const in vec3 irradiance, const in vec3 clearcoatRadiance, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in PhysicalMaterial material, inout ReflectedLight reflectedLight) {
	#ifdef USE_CLEARCOAT
		clearcoatSpecularIndirect += clearcoatRadiance * EnvironmentBRDF( geometryClearcoatNormal, geometryViewDir, material.clearcoatF0, material.clearcoatF90, material.clearcoatRoughness );
	#endif
	#ifdef USE_SHEEN
		sheenSpecularIndirect += irradiance * material.sheenColor * IBLSheenBRDF( geometryNormal, geometryViewDir, material.sheenRoughness );
	#endif
	vec3 singleScattering = vec3( 0.0 );
	vec3 multiScattering = vec3( 0.0 );
	vec3 cosineWeightedIrradiance = irradiance * RECIPROCAL_PI;
	#ifdef USE_IRIDESCENCE
		computeMultiscatteringIridescence( geometryNormal, geometryViewDir, material.specularColor, material.specularF90, material.iridescence, material.iridescenceFresnel, material.roughness, singleScattering, multiScattering );
	#else
		computeMultiscattering( geometryNormal, geometryViewDir, material.specularColor, material.specularF90, material.roughness, singleScattering, multiScattering );
	#endif
	vec3 totalScattering = singleScattering + multiScattering;
	vec3 diffuse = material.diffuseColor * ( 1.0 - max( max( totalScattering.r, totalScattering.g ), totalScattering.b ) );
	reflectedLight.indirectSpecular += radiance * singleScattering;
	reflectedLight.indirectSpecular += multiScattering * cosineWeightedIrradiance;
	reflectedLight.indirectDiffuse += diffuse * cosineWeightedIrradiance;
}
#define RE_Direct				RE_Direct_Physical
#define RE_Direct_RectArea		RE_Direct_RectArea_Physical
#define RE_IndirectDiffuse		RE_IndirectDiffuse_Physical
#define RE_IndirectSpecular		RE_IndirectSpecular_Physical
float computeSpecularOcclusion( const in float dotNV, const in float ambientOcclusion, const in float roughness ) {
	return saturate( pow( dotNV + ambientOcclusion, exp2( - 16.0 * roughness - 1.0 ) ) - 1.0 + ambientOcclusion );
}`,av=`
vec3 geometryPosition = - vViewPosition;
vec3 geometryNormal = normal;
vec3 geometryViewDir = ( isOrthographic ) ? vec3( 0, 0, 1 ) : normalize( vViewPosition );
vec3 geometryClearcoatNormal = vec3( 0.0 );
#ifdef USE_CLEARCOAT
	geometryClearcoatNormal = clearcoatNormal;
#endif
#ifdef USE_IRIDESCENCE
	float dotNVi = saturate( dot( normal, geometryViewDir ) );
	if ( material.iridescenceThickness == 0.0 ) {
		material.iridescence = 0.0;
	} else {
		material.iridescence = saturate( material.iridescence );
	}
	if ( material.iridescence > 0.0 ) {
		material.iridescenceFresnel = evalIridescence( 1.0, material.iridescenceIOR, dotNVi, material.iridescenceThickness, material.specularColor );
		material.iridescenceF0 = Schlick_to_F0( material.iridescenceFresnel, 1.0, dotNVi );
	}
#endif
IncidentLight directLight;
#if ( NUM_POINT_LIGHTS > 0 ) && defined( RE_Direct )
	PointLight pointLight;
	#if defined( USE_SHADOWMAP ) && NUM_POINT_LIGHT_SHADOWS > 0
	PointLightShadow pointLightShadow;
	#endif
	#pragma unroll_loop_start
	for ( int i = 0; i < NUM_POINT_LIGHTS; i ++ ) {
		pointLight = pointLights[ i ];
		getPointLightInfo( pointLight, geometryPosition, directLight );
		#if defined( USE_SHADOWMAP ) && ( UNROLLED_LOOP_INDEX < NUM_POINT_LIGHT_SHADOWS )
		pointLightShadow = pointLightShadows[ i ];
		directLight.color *= ( directLight.visible && receiveShadow ) ? getPointShadow( pointShadowMap[ i ], pointLightShadow.shadowMapSize, pointLightShadow.shadowIntensity, pointLightShadow.shadowBias, pointLightShadow.shadowRadius, vPointShadowCoord[ i ], pointLightShadow.shadowCameraNear, pointLightShadow.shadowCameraFar ) : 1.0;
		#endif
		RE_Direct( directLight, geometryPosition, geometryNormal, geometryViewDir, geometryClearcoatNormal, material, reflectedLight );
	}
	#pragma unroll_loop_end
#endif
#if ( NUM_SPOT_LIGHTS > 0 ) && defined( RE_Direct )
	SpotLight spotLight;
	vec4 spotColor;
	vec3 spotLightCoord;
	bool inSpotLightMap;
	#if defined( USE_SHADOWMAP ) && NUM_SPOT_LIGHT_SHADOWS > 0
	SpotLightShadow spotLightShadow;
	#endif
	#pragma unroll_loop_start
	for ( int i = 0; i < NUM_SPOT_LIGHTS; i ++ ) {
		spotLight = spotLights[ i ];
		getSpotLightInfo( spotLight, geometryPosition, directLight );
		#if ( UNROLLED_LOOP_INDEX < NUM_SPOT_LIGHT_SHADOWS_WITH_MAPS )
		#define SPOT_LIGHT_MAP_INDEX UNROLLED_LOOP_INDEX
		#elif ( UNROLLED_LOOP_INDEX < NUM_SPOT_LIGHT_SHADOWS )
		#define SPOT_LIGHT_MAP_INDEX NUM_SPOT_LIGHT_MAPS
		#else
		#define SPOT_LIGHT_MAP_INDEX ( UNROLLED_LOOP_INDEX - NUM_SPOT_LIGHT_SHADOWS + NUM_SPOT_LIGHT_SHADOWS_WITH_MAPS )
		#endif
		#if ( SPOT_LIGHT_MAP_INDEX < NUM_SPOT_LIGHT_MAPS )
			spotLightCoord = vSpotLightCoord[ i ].xyz / vSpotLightCoord[ i ].w;
			inSpotLightMap = all( lessThan( abs( spotLightCoord * 2. - 1. ), vec3( 1.0 ) ) );
			spotColor = texture2D( spotLightMap[ SPOT_LIGHT_MAP_INDEX ], spotLightCoord.xy );
			directLight.color = inSpotLightMap ? directLight.color * spotColor.rgb : directLight.color;
		#endif
		#undef SPOT_LIGHT_MAP_INDEX
		#if defined( USE_SHADOWMAP ) && ( UNROLLED_LOOP_INDEX < NUM_SPOT_LIGHT_SHADOWS )
		spotLightShadow = spotLightShadows[ i ];
		directLight.color *= ( directLight.visible && receiveShadow ) ? getShadow( spotShadowMap[ i ], spotLightShadow.shadowMapSize, spotLightShadow.shadowIntensity, spotLightShadow.shadowBias, spotLightShadow.shadowRadius, vSpotLightCoord[ i ] ) : 1.0;
		#endif
		RE_Direct( directLight, geometryPosition, geometryNormal, geometryViewDir, geometryClearcoatNormal, material, reflectedLight );
	}
	#pragma unroll_loop_end
#endif
#if ( NUM_DIR_LIGHTS > 0 ) && defined( RE_Direct )
	DirectionalLight directionalLight;
	#if defined( USE_SHADOWMAP ) && NUM_DIR_LIGHT_SHADOWS > 0
	DirectionalLightShadow directionalLightShadow;
	#endif
	#pragma unroll_loop_start
	for ( int i = 0; i < NUM_DIR_LIGHTS; i ++ ) {
		directionalLight = directionalLights[ i ];
		getDirectionalLightInfo( directionalLight, directLight );
		#if defined( USE_SHADOWMAP ) && ( UNROLLED_LOOP_INDEX < NUM_DIR_LIGHT_SHADOWS )
		directionalLightShadow = directionalLightShadows[ i ];
		directLight.color *= ( directLight.visible && receiveShadow ) ? getShadow( directionalShadowMap[ i ], directionalLightShadow.shadowMapSize, directionalLightShadow.shadowIntensity, directionalLightShadow.shadowBias, directionalLightShadow.shadowRadius, vDirectionalShadowCoord[ i ] ) : 1.0;
		#endif
		RE_Direct( directLight, geometryPosition, geometryNormal, geometryViewDir, geometryClearcoatNormal, material, reflectedLight );
	}
	#pragma unroll_loop_end
#endif
#if ( NUM_RECT_AREA_LIGHTS > 0 ) && defined( RE_Direct_RectArea )
	RectAreaLight rectAreaLight;
	#pragma unroll_loop_start
	for ( int i = 0; i < NUM_RECT_AREA_LIGHTS; i ++ ) {
		rectAreaLight = rectAreaLights[ i ];
		RE_Direct_RectArea( rectAreaLight, geometryPosition, geometryNormal, geometryViewDir, geometryClearcoatNormal, material, reflectedLight );
	}
	#pragma unroll_loop_end
#endif
#if defined( RE_IndirectDiffuse )
	vec3 iblIrradiance = vec3( 0.0 );
	vec3 irradiance = getAmbientLightIrradiance( ambientLightColor );
	#if defined( USE_LIGHT_PROBES )
		irradiance += getLightProbeIrradiance( lightProbe, geometryNormal );
	#endif
	#if ( NUM_HEMI_LIGHTS > 0 )
		#pragma unroll_loop_start
		for ( int i = 0; i < NUM_HEMI_LIGHTS; i ++ ) {
			irradiance += getHemisphereLightIrradiance( hemisphereLights[ i ], geometryNormal );
		}
		#pragma unroll_loop_end
	#endif
#endif
#if defined( RE_IndirectSpecular )
	vec3 radiance = vec3( 0.0 );
	vec3 clearcoatRadiance = vec3( 0.0 );
#endif`,ov=`#if defined( RE_IndirectDiffuse )
	#ifdef USE_LIGHTMAP
		vec4 lightMapTexel = texture2D( lightMap, vLightMapUv );
		vec3 lightMapIrradiance = lightMapTexel.rgb * lightMapIntensity;
		irradiance += lightMapIrradiance;
	#endif
	#if defined( USE_ENVMAP ) && defined( STANDARD ) && defined( ENVMAP_TYPE_CUBE_UV )
		iblIrradiance += getIBLIrradiance( geometryNormal );
	#endif
#endif
#if defined( USE_ENVMAP ) && defined( RE_IndirectSpecular )
	#ifdef USE_ANISOTROPY
		radiance += getIBLAnisotropyRadiance( geometryViewDir, geometryNormal, material.roughness, material.anisotropyB, material.anisotropy );
	#else
		radiance += getIBLRadiance( geometryViewDir, geometryNormal, material.roughness );
	#endif
	#ifdef USE_CLEARCOAT
		clearcoatRadiance += getIBLRadiance( geometryViewDir, geometryClearcoatNormal, material.clearcoatRoughness );
	#endif
#endif`,lv=`#if defined( RE_IndirectDiffuse )
	RE_IndirectDiffuse( irradiance, geometryPosition, geometryNormal, geometryViewDir, geometryClearcoatNormal, material, reflectedLight );
#endif
#if defined( RE_IndirectSpecular )
	RE_IndirectSpecular( radiance, iblIrradiance, clearcoatRadiance, geometryPosition, geometryNormal, geometryViewDir, geometryClearcoatNormal, material, reflectedLight );
#endif`,cv=`#if defined( USE_LOGARITHMIC_DEPTH_BUFFER )
	gl_FragDepth = vIsPerspective == 0.0 ? gl_FragCoord.z : log2( vFragDepth ) * logDepthBufFC * 0.5;
#endif`,hv=`#if defined( USE_LOGARITHMIC_DEPTH_BUFFER )
	uniform float logDepthBufFC;
	varying float vFragDepth;
	varying float vIsPerspective;
#endif`,uv=`#ifdef USE_LOGARITHMIC_DEPTH_BUFFER
	varying float vFragDepth;
	varying float vIsPerspective;
#endif`,dv=`#ifdef USE_LOGARITHMIC_DEPTH_BUFFER
	vFragDepth = 1.0 + gl_Position.w;
	vIsPerspective = float( isPerspectiveMatrix( projectionMatrix ) );
#endif`,fv=`#ifdef USE_MAP
	vec4 sampledDiffuseColor = texture2D( map, vMapUv );
	#ifdef DECODE_VIDEO_TEXTURE
		sampledDiffuseColor = sRGBTransferEOTF( sampledDiffuseColor );
	#endif
	diffuseColor *= sampledDiffuseColor;
#endif`,pv=`#ifdef USE_MAP
	uniform sampler2D map;
#endif`,mv=`#if defined( USE_MAP ) || defined( USE_ALPHAMAP )
	#if defined( USE_POINTS_UV )
		vec2 uv = vUv;
	#else
		vec2 uv = ( uvTransform * vec3( gl_PointCoord.x, 1.0 - gl_PointCoord.y, 1 ) ).xy;
	#endif
#endif
#ifdef USE_MAP
	diffuseColor *= texture2D( map, uv );
#endif
#ifdef USE_ALPHAMAP
	diffuseColor.a *= texture2D( alphaMap, uv ).g;
#endif`,gv=`#if defined( USE_POINTS_UV )
	varying vec2 vUv;
#else
	#if defined( USE_MAP ) || defined( USE_ALPHAMAP )
		uniform mat3 uvTransform;
	#endif
#endif
#ifdef USE_MAP
	uniform sampler2D map;
#endif
#ifdef USE_ALPHAMAP
	uniform sampler2D alphaMap;
#endif`,_v=`float metalnessFactor = metalness;
#ifdef USE_METALNESSMAP
	vec4 texelMetalness = texture2D( metalnessMap, vMetalnessMapUv );
	metalnessFactor *= texelMetalness.b;
#endif`,vv=`#ifdef USE_METALNESSMAP
	uniform sampler2D metalnessMap;
#endif`,xv=`#ifdef USE_INSTANCING_MORPH
	float morphTargetInfluences[ MORPHTARGETS_COUNT ];
	float morphTargetBaseInfluence = texelFetch( morphTexture, ivec2( 0, gl_InstanceID ), 0 ).r;
	for ( int i = 0; i < MORPHTARGETS_COUNT; i ++ ) {
		morphTargetInfluences[i] =  texelFetch( morphTexture, ivec2( i + 1, gl_InstanceID ), 0 ).r;
	}
#endif`,Sv=`#if defined( USE_MORPHCOLORS )
	vColor *= morphTargetBaseInfluence;
	for ( int i = 0; i < MORPHTARGETS_COUNT; i ++ ) {
		#if defined( USE_COLOR_ALPHA )
			if ( morphTargetInfluences[ i ] != 0.0 ) vColor += getMorph( gl_VertexID, i, 2 ) * morphTargetInfluences[ i ];
		#elif defined( USE_COLOR )
			if ( morphTargetInfluences[ i ] != 0.0 ) vColor += getMorph( gl_VertexID, i, 2 ).rgb * morphTargetInfluences[ i ];
		#endif
	}
#endif`,bv=`#ifdef USE_MORPHNORMALS
	objectNormal *= morphTargetBaseInfluence;
	for ( int i = 0; i < MORPHTARGETS_COUNT; i ++ ) {
		if ( morphTargetInfluences[ i ] != 0.0 ) objectNormal += getMorph( gl_VertexID, i, 1 ).xyz * morphTargetInfluences[ i ];
	}
#endif`,Mv=`#ifdef USE_MORPHTARGETS
	#ifndef USE_INSTANCING_MORPH
		uniform float morphTargetBaseInfluence;
		uniform float morphTargetInfluences[ MORPHTARGETS_COUNT ];
	#endif
	uniform sampler2DArray morphTargetsTexture;
	uniform ivec2 morphTargetsTextureSize;
	vec4 getMorph( const in int vertexIndex, const in int morphTargetIndex, const in int offset ) {
		int texelIndex = vertexIndex * MORPHTARGETS_TEXTURE_STRIDE + offset;
		int y = texelIndex / morphTargetsTextureSize.x;
		int x = texelIndex - y * morphTargetsTextureSize.x;
		ivec3 morphUV = ivec3( x, y, morphTargetIndex );
		return texelFetch( morphTargetsTexture, morphUV, 0 );
	}
#endif`,wv=`#ifdef USE_MORPHTARGETS
	transformed *= morphTargetBaseInfluence;
	for ( int i = 0; i < MORPHTARGETS_COUNT; i ++ ) {
		if ( morphTargetInfluences[ i ] != 0.0 ) transformed += getMorph( gl_VertexID, i, 0 ).xyz * morphTargetInfluences[ i ];
	}
#endif`,yv=`float faceDirection = gl_FrontFacing ? 1.0 : - 1.0;
#ifdef FLAT_SHADED
	vec3 fdx = dFdx( vViewPosition );
	vec3 fdy = dFdy( vViewPosition );
	vec3 normal = normalize( cross( fdx, fdy ) );
#else
	vec3 normal = normalize( vNormal );
	#ifdef DOUBLE_SIDED
		normal *= faceDirection;
	#endif
#endif
#if defined( USE_NORMALMAP_TANGENTSPACE ) || defined( USE_CLEARCOAT_NORMALMAP ) || defined( USE_ANISOTROPY )
	#ifdef USE_TANGENT
		mat3 tbn = mat3( normalize( vTangent ), normalize( vBitangent ), normal );
	#else
		mat3 tbn = getTangentFrame( - vViewPosition, normal,
		#if defined( USE_NORMALMAP )
			vNormalMapUv
		#elif defined( USE_CLEARCOAT_NORMALMAP )
			vClearcoatNormalMapUv
		#else
			vUv
		#endif
		);
	#endif
	#if defined( DOUBLE_SIDED ) && ! defined( FLAT_SHADED )
		tbn[0] *= faceDirection;
		tbn[1] *= faceDirection;
	#endif
#endif
#ifdef USE_CLEARCOAT_NORMALMAP
	#ifdef USE_TANGENT
		mat3 tbn2 = mat3( normalize( vTangent ), normalize( vBitangent ), normal );
	#else
		mat3 tbn2 = getTangentFrame( - vViewPosition, normal, vClearcoatNormalMapUv );
	#endif
	#if defined( DOUBLE_SIDED ) && ! defined( FLAT_SHADED )
		tbn2[0] *= faceDirection;
		tbn2[1] *= faceDirection;
	#endif
#endif
vec3 nonPerturbedNormal = normal;`,Ev=`#ifdef USE_NORMALMAP_OBJECTSPACE
	normal = texture2D( normalMap, vNormalMapUv ).xyz * 2.0 - 1.0;
	#ifdef FLIP_SIDED
		normal = - normal;
	#endif
	#ifdef DOUBLE_SIDED
		normal = normal * faceDirection;
	#endif
	normal = normalize( normalMatrix * normal );
#elif defined( USE_NORMALMAP_TANGENTSPACE )
	vec3 mapN = texture2D( normalMap, vNormalMapUv ).xyz * 2.0 - 1.0;
	mapN.xy *= normalScale;
	normal = normalize( tbn * mapN );
#elif defined( USE_BUMPMAP )
	normal = perturbNormalArb( - vViewPosition, normal, dHdxy_fwd(), faceDirection );
#endif`,Tv=`#ifndef FLAT_SHADED
	varying vec3 vNormal;
	#ifdef USE_TANGENT
		varying vec3 vTangent;
		varying vec3 vBitangent;
	#endif
#endif`,Av=`#ifndef FLAT_SHADED
	varying vec3 vNormal;
	#ifdef USE_TANGENT
		varying vec3 vTangent;
		varying vec3 vBitangent;
	#endif
#endif`,Rv=`#ifndef FLAT_SHADED
	vNormal = normalize( transformedNormal );
	#ifdef USE_TANGENT
		vTangent = normalize( transformedTangent );
		vBitangent = normalize( cross( vNormal, vTangent ) * tangent.w );
	#endif
#endif`,Cv=`#ifdef USE_NORMALMAP
	uniform sampler2D normalMap;
	uniform vec2 normalScale;
#endif
#ifdef USE_NORMALMAP_OBJECTSPACE
	uniform mat3 normalMatrix;
#endif
#if ! defined ( USE_TANGENT ) && ( defined ( USE_NORMALMAP_TANGENTSPACE ) || defined ( USE_CLEARCOAT_NORMALMAP ) || defined( USE_ANISOTROPY ) )
	mat3 getTangentFrame( vec3 eye_pos, vec3 surf_norm, vec2 uv ) {
		vec3 q0 = dFdx( eye_pos.xyz );
		vec3 q1 = dFdy( eye_pos.xyz );
		vec2 st0 = dFdx( uv.st );
		vec2 st1 = dFdy( uv.st );
		vec3 N = surf_norm;
		vec3 q1perp = cross( q1, N );
		vec3 q0perp = cross( N, q0 );
		vec3 T = q1perp * st0.x + q0perp * st1.x;
		vec3 B = q1perp * st0.y + q0perp * st1.y;
		float det = max( dot( T, T ), dot( B, B ) );
		float scale = ( det == 0.0 ) ? 0.0 : inversesqrt( det );
		return mat3( T * scale, B * scale, N );
	}
#endif`,Pv=`#ifdef USE_CLEARCOAT
	vec3 clearcoatNormal = nonPerturbedNormal;
#endif`,Dv=`#ifdef USE_CLEARCOAT_NORMALMAP
	vec3 clearcoatMapN = texture2D( clearcoatNormalMap, vClearcoatNormalMapUv ).xyz * 2.0 - 1.0;
	clearcoatMapN.xy *= clearcoatNormalScale;
	clearcoatNormal = normalize( tbn2 * clearcoatMapN );
#endif`,Lv=`#ifdef USE_CLEARCOATMAP
	uniform sampler2D clearcoatMap;
#endif
#ifdef USE_CLEARCOAT_NORMALMAP
	uniform sampler2D clearcoatNormalMap;
	uniform vec2 clearcoatNormalScale;
#endif
#ifdef USE_CLEARCOAT_ROUGHNESSMAP
	uniform sampler2D clearcoatRoughnessMap;
#endif`,Nv=`#ifdef USE_IRIDESCENCEMAP
	uniform sampler2D iridescenceMap;
#endif
#ifdef USE_IRIDESCENCE_THICKNESSMAP
	uniform sampler2D iridescenceThicknessMap;
#endif`,Uv=`#ifdef OPAQUE
diffuseColor.a = 1.0;
#endif
#ifdef USE_TRANSMISSION
diffuseColor.a *= material.transmissionAlpha;
#endif
gl_FragColor = vec4( outgoingLight, diffuseColor.a );`,Iv=`vec3 packNormalToRGB( const in vec3 normal ) {
	return normalize( normal ) * 0.5 + 0.5;
}
vec3 unpackRGBToNormal( const in vec3 rgb ) {
	return 2.0 * rgb.xyz - 1.0;
}
const float PackUpscale = 256. / 255.;const float UnpackDownscale = 255. / 256.;const float ShiftRight8 = 1. / 256.;
const float Inv255 = 1. / 255.;
const vec4 PackFactors = vec4( 1.0, 256.0, 256.0 * 256.0, 256.0 * 256.0 * 256.0 );
const vec2 UnpackFactors2 = vec2( UnpackDownscale, 1.0 / PackFactors.g );
const vec3 UnpackFactors3 = vec3( UnpackDownscale / PackFactors.rg, 1.0 / PackFactors.b );
const vec4 UnpackFactors4 = vec4( UnpackDownscale / PackFactors.rgb, 1.0 / PackFactors.a );
vec4 packDepthToRGBA( const in float v ) {
	if( v <= 0.0 )
		return vec4( 0., 0., 0., 0. );
	if( v >= 1.0 )
		return vec4( 1., 1., 1., 1. );
	float vuf;
	float af = modf( v * PackFactors.a, vuf );
	float bf = modf( vuf * ShiftRight8, vuf );
	float gf = modf( vuf * ShiftRight8, vuf );
	return vec4( vuf * Inv255, gf * PackUpscale, bf * PackUpscale, af );
}
vec3 packDepthToRGB( const in float v ) {
	if( v <= 0.0 )
		return vec3( 0., 0., 0. );
	if( v >= 1.0 )
		return vec3( 1., 1., 1. );
	float vuf;
	float bf = modf( v * PackFactors.b, vuf );
	float gf = modf( vuf * ShiftRight8, vuf );
	return vec3( vuf * Inv255, gf * PackUpscale, bf );
}
vec2 packDepthToRG( const in float v ) {
	if( v <= 0.0 )
		return vec2( 0., 0. );
	if( v >= 1.0 )
		return vec2( 1., 1. );
	float vuf;
	float gf = modf( v * 256., vuf );
	return vec2( vuf * Inv255, gf );
}
float unpackRGBAToDepth( const in vec4 v ) {
	return dot( v, UnpackFactors4 );
}
float unpackRGBToDepth( const in vec3 v ) {
	return dot( v, UnpackFactors3 );
}
float unpackRGToDepth( const in vec2 v ) {
	return v.r * UnpackFactors2.r + v.g * UnpackFactors2.g;
}
vec4 pack2HalfToRGBA( const in vec2 v ) {
	vec4 r = vec4( v.x, fract( v.x * 255.0 ), v.y, fract( v.y * 255.0 ) );
	return vec4( r.x - r.y / 255.0, r.y, r.z - r.w / 255.0, r.w );
}
vec2 unpackRGBATo2Half( const in vec4 v ) {
	return vec2( v.x + ( v.y / 255.0 ), v.z + ( v.w / 255.0 ) );
}
float viewZToOrthographicDepth( const in float viewZ, const in float near, const in float far ) {
	return ( viewZ + near ) / ( near - far );
}
float orthographicDepthToViewZ( const in float depth, const in float near, const in float far ) {
	return depth * ( near - far ) - near;
}
float viewZToPerspectiveDepth( const in float viewZ, const in float near, const in float far ) {
	return ( ( near + viewZ ) * far ) / ( ( far - near ) * viewZ );
}
float perspectiveDepthToViewZ( const in float depth, const in float near, const in float far ) {
	return ( near * far ) / ( ( far - near ) * depth - far );
}`,kv=`#ifdef PREMULTIPLIED_ALPHA
	gl_FragColor.rgb *= gl_FragColor.a;
#endif`,Fv=`vec4 mvPosition = vec4( transformed, 1.0 );
#ifdef USE_BATCHING
	mvPosition = batchingMatrix * mvPosition;
#endif
#ifdef USE_INSTANCING
	mvPosition = instanceMatrix * mvPosition;
#endif
mvPosition = modelViewMatrix * mvPosition;
gl_Position = projectionMatrix * mvPosition;`,Ov=`#ifdef DITHERING
	gl_FragColor.rgb = dithering( gl_FragColor.rgb );
#endif`,Bv=`#ifdef DITHERING
	vec3 dithering( vec3 color ) {
		float grid_position = rand( gl_FragCoord.xy );
		vec3 dither_shift_RGB = vec3( 0.25 / 255.0, -0.25 / 255.0, 0.25 / 255.0 );
		dither_shift_RGB = mix( 2.0 * dither_shift_RGB, -2.0 * dither_shift_RGB, grid_position );
		return color + dither_shift_RGB;
	}
#endif`,zv=`float roughnessFactor = roughness;
#ifdef USE_ROUGHNESSMAP
	vec4 texelRoughness = texture2D( roughnessMap, vRoughnessMapUv );
	roughnessFactor *= texelRoughness.g;
#endif`,Hv=`#ifdef USE_ROUGHNESSMAP
	uniform sampler2D roughnessMap;
#endif`,Vv=`#if NUM_SPOT_LIGHT_COORDS > 0
	varying vec4 vSpotLightCoord[ NUM_SPOT_LIGHT_COORDS ];
#endif
#if NUM_SPOT_LIGHT_MAPS > 0
	uniform sampler2D spotLightMap[ NUM_SPOT_LIGHT_MAPS ];
#endif
#ifdef USE_SHADOWMAP
	#if NUM_DIR_LIGHT_SHADOWS > 0
		uniform sampler2D directionalShadowMap[ NUM_DIR_LIGHT_SHADOWS ];
		varying vec4 vDirectionalShadowCoord[ NUM_DIR_LIGHT_SHADOWS ];
		struct DirectionalLightShadow {
			float shadowIntensity;
			float shadowBias;
			float shadowNormalBias;
			float shadowRadius;
			vec2 shadowMapSize;
		};
		uniform DirectionalLightShadow directionalLightShadows[ NUM_DIR_LIGHT_SHADOWS ];
	#endif
	#if NUM_SPOT_LIGHT_SHADOWS > 0
		uniform sampler2D spotShadowMap[ NUM_SPOT_LIGHT_SHADOWS ];
		struct SpotLightShadow {
			float shadowIntensity;
			float shadowBias;
			float shadowNormalBias;
			float shadowRadius;
			vec2 shadowMapSize;
		};
		uniform SpotLightShadow spotLightShadows[ NUM_SPOT_LIGHT_SHADOWS ];
	#endif
	#if NUM_POINT_LIGHT_SHADOWS > 0
		uniform sampler2D pointShadowMap[ NUM_POINT_LIGHT_SHADOWS ];
		varying vec4 vPointShadowCoord[ NUM_POINT_LIGHT_SHADOWS ];
		struct PointLightShadow {
			float shadowIntensity;
			float shadowBias;
			float shadowNormalBias;
			float shadowRadius;
			vec2 shadowMapSize;
			float shadowCameraNear;
			float shadowCameraFar;
		};
		uniform PointLightShadow pointLightShadows[ NUM_POINT_LIGHT_SHADOWS ];
	#endif
	float texture2DCompare( sampler2D depths, vec2 uv, float compare ) {
		float depth = unpackRGBAToDepth( texture2D( depths, uv ) );
		#ifdef USE_REVERSED_DEPTH_BUFFER
			return step( depth, compare );
		#else
			return step( compare, depth );
		#endif
	}
	vec2 texture2DDistribution( sampler2D shadow, vec2 uv ) {
		return unpackRGBATo2Half( texture2D( shadow, uv ) );
	}
	float VSMShadow( sampler2D shadow, vec2 uv, float compare ) {
		float occlusion = 1.0;
		vec2 distribution = texture2DDistribution( shadow, uv );
		#ifdef USE_REVERSED_DEPTH_BUFFER
			float hard_shadow = step( distribution.x, compare );
		#else
			float hard_shadow = step( compare, distribution.x );
		#endif
		if ( hard_shadow != 1.0 ) {
			float distance = compare - distribution.x;
			float variance = max( 0.00000, distribution.y * distribution.y );
			float softness_probability = variance / (variance + distance * distance );			softness_probability = clamp( ( softness_probability - 0.3 ) / ( 0.95 - 0.3 ), 0.0, 1.0 );			occlusion = clamp( max( hard_shadow, softness_probability ), 0.0, 1.0 );
		}
		return occlusion;
	}
	float getShadow( sampler2D shadowMap, vec2 shadowMapSize, float shadowIntensity, float shadowBias, float shadowRadius, vec4 shadowCoord ) {
		float shadow = 1.0;
		shadowCoord.xyz /= shadowCoord.w;
		shadowCoord.z += shadowBias;
		bool inFrustum = shadowCoord.x >= 0.0 && shadowCoord.x <= 1.0 && shadowCoord.y >= 0.0 && shadowCoord.y <= 1.0;
		bool frustumTest = inFrustum && shadowCoord.z <= 1.0;
		if ( frustumTest ) {
		#if defined( SHADOWMAP_TYPE_PCF )
			vec2 texelSize = vec2( 1.0 ) / shadowMapSize;
			float dx0 = - texelSize.x * shadowRadius;
			float dy0 = - texelSize.y * shadowRadius;
			float dx1 = + texelSize.x * shadowRadius;
			float dy1 = + texelSize.y * shadowRadius;
			float dx2 = dx0 / 2.0;
			float dy2 = dy0 / 2.0;
			float dx3 = dx1 / 2.0;
			float dy3 = dy1 / 2.0;
			shadow = (
				texture2DCompare( shadowMap, shadowCoord.xy + vec2( dx0, dy0 ), shadowCoord.z ) +
				texture2DCompare( shadowMap, shadowCoord.xy + vec2( 0.0, dy0 ), shadowCoord.z ) +
				texture2DCompare( shadowMap, shadowCoord.xy + vec2( dx1, dy0 ), shadowCoord.z ) +
				texture2DCompare( shadowMap, shadowCoord.xy + vec2( dx2, dy2 ), shadowCoord.z ) +
				texture2DCompare( shadowMap, shadowCoord.xy + vec2( 0.0, dy2 ), shadowCoord.z ) +
				texture2DCompare( shadowMap, shadowCoord.xy + vec2( dx3, dy2 ), shadowCoord.z ) +
				texture2DCompare( shadowMap, shadowCoord.xy + vec2( dx0, 0.0 ), shadowCoord.z ) +
				texture2DCompare( shadowMap, shadowCoord.xy + vec2( dx2, 0.0 ), shadowCoord.z ) +
				texture2DCompare( shadowMap, shadowCoord.xy, shadowCoord.z ) +
				texture2DCompare( shadowMap, shadowCoord.xy + vec2( dx3, 0.0 ), shadowCoord.z ) +
				texture2DCompare( shadowMap, shadowCoord.xy + vec2( dx1, 0.0 ), shadowCoord.z ) +
				texture2DCompare( shadowMap, shadowCoord.xy + vec2( dx2, dy3 ), shadowCoord.z ) +
				texture2DCompare( shadowMap, shadowCoord.xy + vec2( 0.0, dy3 ), shadowCoord.z ) +
				texture2DCompare( shadowMap, shadowCoord.xy + vec2( dx3, dy3 ), shadowCoord.z ) +
				texture2DCompare( shadowMap, shadowCoord.xy + vec2( dx0, dy1 ), shadowCoord.z ) +
				texture2DCompare( shadowMap, shadowCoord.xy + vec2( 0.0, dy1 ), shadowCoord.z ) +
				texture2DCompare( shadowMap, shadowCoord.xy + vec2( dx1, dy1 ), shadowCoord.z )
			) * ( 1.0 / 17.0 );
		#elif defined( SHADOWMAP_TYPE_PCF_SOFT )
			vec2 texelSize = vec2( 1.0 ) / shadowMapSize;
			float dx = texelSize.x;
			float dy = texelSize.y;
			vec2 uv = shadowCoord.xy;
			vec2 f = fract( uv * shadowMapSize + 0.5 );
			uv -= f * texelSize;
			shadow = (
				texture2DCompare( shadowMap, uv, shadowCoord.z ) +
				texture2DCompare( shadowMap, uv + vec2( dx, 0.0 ), shadowCoord.z ) +
				texture2DCompare( shadowMap, uv + vec2( 0.0, dy ), shadowCoord.z ) +
				texture2DCompare( shadowMap, uv + texelSize, shadowCoord.z ) +
				mix( texture2DCompare( shadowMap, uv + vec2( -dx, 0.0 ), shadowCoord.z ),
					 texture2DCompare( shadowMap, uv + vec2( 2.0 * dx, 0.0 ), shadowCoord.z ),
					 f.x ) +
				mix( texture2DCompare( shadowMap, uv + vec2( -dx, dy ), shadowCoord.z ),
					 texture2DCompare( shadowMap, uv + vec2( 2.0 * dx, dy ), shadowCoord.z ),
					 f.x ) +
				mix( texture2DCompare( shadowMap, uv + vec2( 0.0, -dy ), shadowCoord.z ),
					 texture2DCompare( shadowMap, uv + vec2( 0.0, 2.0 * dy ), shadowCoord.z ),
					 f.y ) +
				mix( texture2DCompare( shadowMap, uv + vec2( dx, -dy ), shadowCoord.z ),
					 texture2DCompare( shadowMap, uv + vec2( dx, 2.0 * dy ), shadowCoord.z ),
					 f.y ) +
				mix( mix( texture2DCompare( shadowMap, uv + vec2( -dx, -dy ), shadowCoord.z ),
						  texture2DCompare( shadowMap, uv + vec2( 2.0 * dx, -dy ), shadowCoord.z ),
						  f.x ),
					 mix( texture2DCompare( shadowMap, uv + vec2( -dx, 2.0 * dy ), shadowCoord.z ),
						  texture2DCompare( shadowMap, uv + vec2( 2.0 * dx, 2.0 * dy ), shadowCoord.z ),
						  f.x ),
					 f.y )
			) * ( 1.0 / 9.0 );
		#elif defined( SHADOWMAP_TYPE_VSM )
			shadow = VSMShadow( shadowMap, shadowCoord.xy, shadowCoord.z );
		#else
			shadow = texture2DCompare( shadowMap, shadowCoord.xy, shadowCoord.z );
		#endif
		}
		return mix( 1.0, shadow, shadowIntensity );
	}
	vec2 cubeToUV( vec3 v, float texelSizeY ) {
		vec3 absV = abs( v );
		float scaleToCube = 1.0 / max( absV.x, max( absV.y, absV.z ) );
		absV *= scaleToCube;
		v *= scaleToCube * ( 1.0 - 2.0 * texelSizeY );
		vec2 planar = v.xy;
		float almostATexel = 1.5 * texelSizeY;
		float almostOne = 1.0 - almostATexel;
		if ( absV.z >= almostOne ) {
			if ( v.z > 0.0 )
				planar.x = 4.0 - v.x;
		} else if ( absV.x >= almostOne ) {
			float signX = sign( v.x );
			planar.x = v.z * signX + 2.0 * signX;
		} else if ( absV.y >= almostOne ) {
			float signY = sign( v.y );
			planar.x = v.x + 2.0 * signY + 2.0;
			planar.y = v.z * signY - 2.0;
		}
		return vec2( 0.125, 0.25 ) * planar + vec2( 0.375, 0.75 );
	}
	float getPointShadow( sampler2D shadowMap, vec2 shadowMapSize, float shadowIntensity, float shadowBias, float shadowRadius, vec4 shadowCoord, float shadowCameraNear, float shadowCameraFar ) {
		float shadow = 1.0;
		vec3 lightToPosition = shadowCoord.xyz;
		
		float lightToPositionLength = length( lightToPosition );
		if ( lightToPositionLength - shadowCameraFar <= 0.0 && lightToPositionLength - shadowCameraNear >= 0.0 ) {
			float dp = ( lightToPositionLength - shadowCameraNear ) / ( shadowCameraFar - shadowCameraNear );			dp += shadowBias;
			vec3 bd3D = normalize( lightToPosition );
			vec2 texelSize = vec2( 1.0 ) / ( shadowMapSize * vec2( 4.0, 2.0 ) );
			#if defined( SHADOWMAP_TYPE_PCF ) || defined( SHADOWMAP_TYPE_PCF_SOFT ) || defined( SHADOWMAP_TYPE_VSM )
				vec2 offset = vec2( - 1, 1 ) * shadowRadius * texelSize.y;
				shadow = (
					texture2DCompare( shadowMap, cubeToUV( bd3D + offset.xyy, texelSize.y ), dp ) +
					texture2DCompare( shadowMap, cubeToUV( bd3D + offset.yyy, texelSize.y ), dp ) +
					texture2DCompare( shadowMap, cubeToUV( bd3D + offset.xyx, texelSize.y ), dp ) +
					texture2DCompare( shadowMap, cubeToUV( bd3D + offset.yyx, texelSize.y ), dp ) +
					texture2DCompare( shadowMap, cubeToUV( bd3D, texelSize.y ), dp ) +
					texture2DCompare( shadowMap, cubeToUV( bd3D + offset.xxy, texelSize.y ), dp ) +
					texture2DCompare( shadowMap, cubeToUV( bd3D + offset.yxy, texelSize.y ), dp ) +
					texture2DCompare( shadowMap, cubeToUV( bd3D + offset.xxx, texelSize.y ), dp ) +
					texture2DCompare( shadowMap, cubeToUV( bd3D + offset.yxx, texelSize.y ), dp )
				) * ( 1.0 / 9.0 );
			#else
				shadow = texture2DCompare( shadowMap, cubeToUV( bd3D, texelSize.y ), dp );
			#endif
		}
		return mix( 1.0, shadow, shadowIntensity );
	}
#endif`,Gv=`#if NUM_SPOT_LIGHT_COORDS > 0
	uniform mat4 spotLightMatrix[ NUM_SPOT_LIGHT_COORDS ];
	varying vec4 vSpotLightCoord[ NUM_SPOT_LIGHT_COORDS ];
#endif
#ifdef USE_SHADOWMAP
	#if NUM_DIR_LIGHT_SHADOWS > 0
		uniform mat4 directionalShadowMatrix[ NUM_DIR_LIGHT_SHADOWS ];
		varying vec4 vDirectionalShadowCoord[ NUM_DIR_LIGHT_SHADOWS ];
		struct DirectionalLightShadow {
			float shadowIntensity;
			float shadowBias;
			float shadowNormalBias;
			float shadowRadius;
			vec2 shadowMapSize;
		};
		uniform DirectionalLightShadow directionalLightShadows[ NUM_DIR_LIGHT_SHADOWS ];
	#endif
	#if NUM_SPOT_LIGHT_SHADOWS > 0
		struct SpotLightShadow {
			float shadowIntensity;
			float shadowBias;
			float shadowNormalBias;
			float shadowRadius;
			vec2 shadowMapSize;
		};
		uniform SpotLightShadow spotLightShadows[ NUM_SPOT_LIGHT_SHADOWS ];
	#endif
	#if NUM_POINT_LIGHT_SHADOWS > 0
		uniform mat4 pointShadowMatrix[ NUM_POINT_LIGHT_SHADOWS ];
		varying vec4 vPointShadowCoord[ NUM_POINT_LIGHT_SHADOWS ];
		struct PointLightShadow {
			float shadowIntensity;
			float shadowBias;
			float shadowNormalBias;
			float shadowRadius;
			vec2 shadowMapSize;
			float shadowCameraNear;
			float shadowCameraFar;
		};
		uniform PointLightShadow pointLightShadows[ NUM_POINT_LIGHT_SHADOWS ];
	#endif
#endif`,Wv=`#if ( defined( USE_SHADOWMAP ) && ( NUM_DIR_LIGHT_SHADOWS > 0 || NUM_POINT_LIGHT_SHADOWS > 0 ) ) || ( NUM_SPOT_LIGHT_COORDS > 0 )
	vec3 shadowWorldNormal = inverseTransformDirection( transformedNormal, viewMatrix );
	vec4 shadowWorldPosition;
#endif
#if defined( USE_SHADOWMAP )
	#if NUM_DIR_LIGHT_SHADOWS > 0
		#pragma unroll_loop_start
		for ( int i = 0; i < NUM_DIR_LIGHT_SHADOWS; i ++ ) {
			shadowWorldPosition = worldPosition + vec4( shadowWorldNormal * directionalLightShadows[ i ].shadowNormalBias, 0 );
			vDirectionalShadowCoord[ i ] = directionalShadowMatrix[ i ] * shadowWorldPosition;
		}
		#pragma unroll_loop_end
	#endif
	#if NUM_POINT_LIGHT_SHADOWS > 0
		#pragma unroll_loop_start
		for ( int i = 0; i < NUM_POINT_LIGHT_SHADOWS; i ++ ) {
			shadowWorldPosition = worldPosition + vec4( shadowWorldNormal * pointLightShadows[ i ].shadowNormalBias, 0 );
			vPointShadowCoord[ i ] = pointShadowMatrix[ i ] * shadowWorldPosition;
		}
		#pragma unroll_loop_end
	#endif
#endif
#if NUM_SPOT_LIGHT_COORDS > 0
	#pragma unroll_loop_start
	for ( int i = 0; i < NUM_SPOT_LIGHT_COORDS; i ++ ) {
		shadowWorldPosition = worldPosition;
		#if ( defined( USE_SHADOWMAP ) && UNROLLED_LOOP_INDEX < NUM_SPOT_LIGHT_SHADOWS )
			shadowWorldPosition.xyz += shadowWorldNormal * spotLightShadows[ i ].shadowNormalBias;
		#endif
		vSpotLightCoord[ i ] = spotLightMatrix[ i ] * shadowWorldPosition;
	}
	#pragma unroll_loop_end
#endif`,$v=`float getShadowMask() {
	float shadow = 1.0;
	#ifdef USE_SHADOWMAP
	#if NUM_DIR_LIGHT_SHADOWS > 0
	DirectionalLightShadow directionalLight;
	#pragma unroll_loop_start
	for ( int i = 0; i < NUM_DIR_LIGHT_SHADOWS; i ++ ) {
		directionalLight = directionalLightShadows[ i ];
		shadow *= receiveShadow ? getShadow( directionalShadowMap[ i ], directionalLight.shadowMapSize, directionalLight.shadowIntensity, directionalLight.shadowBias, directionalLight.shadowRadius, vDirectionalShadowCoord[ i ] ) : 1.0;
	}
	#pragma unroll_loop_end
	#endif
	#if NUM_SPOT_LIGHT_SHADOWS > 0
	SpotLightShadow spotLight;
	#pragma unroll_loop_start
	for ( int i = 0; i < NUM_SPOT_LIGHT_SHADOWS; i ++ ) {
		spotLight = spotLightShadows[ i ];
		shadow *= receiveShadow ? getShadow( spotShadowMap[ i ], spotLight.shadowMapSize, spotLight.shadowIntensity, spotLight.shadowBias, spotLight.shadowRadius, vSpotLightCoord[ i ] ) : 1.0;
	}
	#pragma unroll_loop_end
	#endif
	#if NUM_POINT_LIGHT_SHADOWS > 0
	PointLightShadow pointLight;
	#pragma unroll_loop_start
	for ( int i = 0; i < NUM_POINT_LIGHT_SHADOWS; i ++ ) {
		pointLight = pointLightShadows[ i ];
		shadow *= receiveShadow ? getPointShadow( pointShadowMap[ i ], pointLight.shadowMapSize, pointLight.shadowIntensity, pointLight.shadowBias, pointLight.shadowRadius, vPointShadowCoord[ i ], pointLight.shadowCameraNear, pointLight.shadowCameraFar ) : 1.0;
	}
	#pragma unroll_loop_end
	#endif
	#endif
	return shadow;
}`,Xv=`#ifdef USE_SKINNING
	mat4 boneMatX = getBoneMatrix( skinIndex.x );
	mat4 boneMatY = getBoneMatrix( skinIndex.y );
	mat4 boneMatZ = getBoneMatrix( skinIndex.z );
	mat4 boneMatW = getBoneMatrix( skinIndex.w );
#endif`,qv=`#ifdef USE_SKINNING
	uniform mat4 bindMatrix;
	uniform mat4 bindMatrixInverse;
	uniform highp sampler2D boneTexture;
	mat4 getBoneMatrix( const in float i ) {
		int size = textureSize( boneTexture, 0 ).x;
		int j = int( i ) * 4;
		int x = j % size;
		int y = j / size;
		vec4 v1 = texelFetch( boneTexture, ivec2( x, y ), 0 );
		vec4 v2 = texelFetch( boneTexture, ivec2( x + 1, y ), 0 );
		vec4 v3 = texelFetch( boneTexture, ivec2( x + 2, y ), 0 );
		vec4 v4 = texelFetch( boneTexture, ivec2( x + 3, y ), 0 );
		return mat4( v1, v2, v3, v4 );
	}
#endif`,Yv=`#ifdef USE_SKINNING
	vec4 skinVertex = bindMatrix * vec4( transformed, 1.0 );
	vec4 skinned = vec4( 0.0 );
	skinned += boneMatX * skinVertex * skinWeight.x;
	skinned += boneMatY * skinVertex * skinWeight.y;
	skinned += boneMatZ * skinVertex * skinWeight.z;
	skinned += boneMatW * skinVertex * skinWeight.w;
	transformed = ( bindMatrixInverse * skinned ).xyz;
#endif`,jv=`#ifdef USE_SKINNING
	mat4 skinMatrix = mat4( 0.0 );
	skinMatrix += skinWeight.x * boneMatX;
	skinMatrix += skinWeight.y * boneMatY;
	skinMatrix += skinWeight.z * boneMatZ;
	skinMatrix += skinWeight.w * boneMatW;
	skinMatrix = bindMatrixInverse * skinMatrix * bindMatrix;
	objectNormal = vec4( skinMatrix * vec4( objectNormal, 0.0 ) ).xyz;
	#ifdef USE_TANGENT
		objectTangent = vec4( skinMatrix * vec4( objectTangent, 0.0 ) ).xyz;
	#endif
#endif`,Zv=`float specularStrength;
#ifdef USE_SPECULARMAP
	vec4 texelSpecular = texture2D( specularMap, vSpecularMapUv );
	specularStrength = texelSpecular.r;
#else
	specularStrength = 1.0;
#endif`,Kv=`#ifdef USE_SPECULARMAP
	uniform sampler2D specularMap;
#endif`,Jv=`#if defined( TONE_MAPPING )
	gl_FragColor.rgb = toneMapping( gl_FragColor.rgb );
#endif`,Qv=`#ifndef saturate
#define saturate( a ) clamp( a, 0.0, 1.0 )
#endif
uniform float toneMappingExposure;
vec3 LinearToneMapping( vec3 color ) {
	return saturate( toneMappingExposure * color );
}
vec3 ReinhardToneMapping( vec3 color ) {
	color *= toneMappingExposure;
	return saturate( color / ( vec3( 1.0 ) + color ) );
}
vec3 CineonToneMapping( vec3 color ) {
	color *= toneMappingExposure;
	color = max( vec3( 0.0 ), color - 0.004 );
	return pow( ( color * ( 6.2 * color + 0.5 ) ) / ( color * ( 6.2 * color + 1.7 ) + 0.06 ), vec3( 2.2 ) );
}
vec3 RRTAndODTFit( vec3 v ) {
	vec3 a = v * ( v + 0.0245786 ) - 0.000090537;
	vec3 b = v * ( 0.983729 * v + 0.4329510 ) + 0.238081;
	return a / b;
}
vec3 ACESFilmicToneMapping( vec3 color ) {
	const mat3 ACESInputMat = mat3(
		vec3( 0.59719, 0.07600, 0.02840 ),		vec3( 0.35458, 0.90834, 0.13383 ),
		vec3( 0.04823, 0.01566, 0.83777 )
	);
	const mat3 ACESOutputMat = mat3(
		vec3(  1.60475, -0.10208, -0.00327 ),		vec3( -0.53108,  1.10813, -0.07276 ),
		vec3( -0.07367, -0.00605,  1.07602 )
	);
	color *= toneMappingExposure / 0.6;
	color = ACESInputMat * color;
	color = RRTAndODTFit( color );
	color = ACESOutputMat * color;
	return saturate( color );
}
const mat3 LINEAR_REC2020_TO_LINEAR_SRGB = mat3(
	vec3( 1.6605, - 0.1246, - 0.0182 ),
	vec3( - 0.5876, 1.1329, - 0.1006 ),
	vec3( - 0.0728, - 0.0083, 1.1187 )
);
const mat3 LINEAR_SRGB_TO_LINEAR_REC2020 = mat3(
	vec3( 0.6274, 0.0691, 0.0164 ),
	vec3( 0.3293, 0.9195, 0.0880 ),
	vec3( 0.0433, 0.0113, 0.8956 )
);
vec3 agxDefaultContrastApprox( vec3 x ) {
	vec3 x2 = x * x;
	vec3 x4 = x2 * x2;
	return + 15.5 * x4 * x2
		- 40.14 * x4 * x
		+ 31.96 * x4
		- 6.868 * x2 * x
		+ 0.4298 * x2
		+ 0.1191 * x
		- 0.00232;
}
vec3 AgXToneMapping( vec3 color ) {
	const mat3 AgXInsetMatrix = mat3(
		vec3( 0.856627153315983, 0.137318972929847, 0.11189821299995 ),
		vec3( 0.0951212405381588, 0.761241990602591, 0.0767994186031903 ),
		vec3( 0.0482516061458583, 0.101439036467562, 0.811302368396859 )
	);
	const mat3 AgXOutsetMatrix = mat3(
		vec3( 1.1271005818144368, - 0.1413297634984383, - 0.14132976349843826 ),
		vec3( - 0.11060664309660323, 1.157823702216272, - 0.11060664309660294 ),
		vec3( - 0.016493938717834573, - 0.016493938717834257, 1.2519364065950405 )
	);
	const float AgxMinEv = - 12.47393;	const float AgxMaxEv = 4.026069;
	color *= toneMappingExposure;
	color = LINEAR_SRGB_TO_LINEAR_REC2020 * color;
	color = AgXInsetMatrix * color;
	color = max( color, 1e-10 );	color = log2( color );
	color = ( color - AgxMinEv ) / ( AgxMaxEv - AgxMinEv );
	color = clamp( color, 0.0, 1.0 );
	color = agxDefaultContrastApprox( color );
	color = AgXOutsetMatrix * color;
	color = pow( max( vec3( 0.0 ), color ), vec3( 2.2 ) );
	color = LINEAR_REC2020_TO_LINEAR_SRGB * color;
	color = clamp( color, 0.0, 1.0 );
	return color;
}
vec3 NeutralToneMapping( vec3 color ) {
	const float StartCompression = 0.8 - 0.04;
	const float Desaturation = 0.15;
	color *= toneMappingExposure;
	float x = min( color.r, min( color.g, color.b ) );
	float offset = x < 0.08 ? x - 6.25 * x * x : 0.04;
	color -= offset;
	float peak = max( color.r, max( color.g, color.b ) );
	if ( peak < StartCompression ) return color;
	float d = 1. - StartCompression;
	float newPeak = 1. - d * d / ( peak + d - StartCompression );
	color *= newPeak / peak;
	float g = 1. - 1. / ( Desaturation * ( peak - newPeak ) + 1. );
	return mix( color, vec3( newPeak ), g );
}
vec3 CustomToneMapping( vec3 color ) { return color; }`,ex=`#ifdef USE_TRANSMISSION
	material.transmission = transmission;
	material.transmissionAlpha = 1.0;
	material.thickness = thickness;
	material.attenuationDistance = attenuationDistance;
	material.attenuationColor = attenuationColor;
	#ifdef USE_TRANSMISSIONMAP
		material.transmission *= texture2D( transmissionMap, vTransmissionMapUv ).r;
	#endif
	#ifdef USE_THICKNESSMAP
		material.thickness *= texture2D( thicknessMap, vThicknessMapUv ).g;
	#endif
	vec3 pos = vWorldPosition;
	vec3 v = normalize( cameraPosition - pos );
	vec3 n = inverseTransformDirection( normal, viewMatrix );
	vec4 transmitted = getIBLVolumeRefraction(
		n, v, material.roughness, material.diffuseColor, material.specularColor, material.specularF90,
		pos, modelMatrix, viewMatrix, projectionMatrix, material.dispersion, material.ior, material.thickness,
		material.attenuationColor, material.attenuationDistance );
	material.transmissionAlpha = mix( material.transmissionAlpha, transmitted.a, material.transmission );
	totalDiffuse = mix( totalDiffuse, transmitted.rgb, material.transmission );
#endif`,tx=`#ifdef USE_TRANSMISSION
	uniform float transmission;
	uniform float thickness;
	uniform float attenuationDistance;
	uniform vec3 attenuationColor;
	#ifdef USE_TRANSMISSIONMAP
		uniform sampler2D transmissionMap;
	#endif
	#ifdef USE_THICKNESSMAP
		uniform sampler2D thicknessMap;
	#endif
	uniform vec2 transmissionSamplerSize;
	uniform sampler2D transmissionSamplerMap;
	uniform mat4 modelMatrix;
	uniform mat4 projectionMatrix;
	varying vec3 vWorldPosition;
	float w0( float a ) {
		return ( 1.0 / 6.0 ) * ( a * ( a * ( - a + 3.0 ) - 3.0 ) + 1.0 );
	}
	float w1( float a ) {
		return ( 1.0 / 6.0 ) * ( a *  a * ( 3.0 * a - 6.0 ) + 4.0 );
	}
	float w2( float a ){
		return ( 1.0 / 6.0 ) * ( a * ( a * ( - 3.0 * a + 3.0 ) + 3.0 ) + 1.0 );
	}
	float w3( float a ) {
		return ( 1.0 / 6.0 ) * ( a * a * a );
	}
	float g0( float a ) {
		return w0( a ) + w1( a );
	}
	float g1( float a ) {
		return w2( a ) + w3( a );
	}
	float h0( float a ) {
		return - 1.0 + w1( a ) / ( w0( a ) + w1( a ) );
	}
	float h1( float a ) {
		return 1.0 + w3( a ) / ( w2( a ) + w3( a ) );
	}
	vec4 bicubic( sampler2D tex, vec2 uv, vec4 texelSize, float lod ) {
		uv = uv * texelSize.zw + 0.5;
		vec2 iuv = floor( uv );
		vec2 fuv = fract( uv );
		float g0x = g0( fuv.x );
		float g1x = g1( fuv.x );
		float h0x = h0( fuv.x );
		float h1x = h1( fuv.x );
		float h0y = h0( fuv.y );
		float h1y = h1( fuv.y );
		vec2 p0 = ( vec2( iuv.x + h0x, iuv.y + h0y ) - 0.5 ) * texelSize.xy;
		vec2 p1 = ( vec2( iuv.x + h1x, iuv.y + h0y ) - 0.5 ) * texelSize.xy;
		vec2 p2 = ( vec2( iuv.x + h0x, iuv.y + h1y ) - 0.5 ) * texelSize.xy;
		vec2 p3 = ( vec2( iuv.x + h1x, iuv.y + h1y ) - 0.5 ) * texelSize.xy;
		return g0( fuv.y ) * ( g0x * textureLod( tex, p0, lod ) + g1x * textureLod( tex, p1, lod ) ) +
			g1( fuv.y ) * ( g0x * textureLod( tex, p2, lod ) + g1x * textureLod( tex, p3, lod ) );
	}
	vec4 textureBicubic( sampler2D sampler, vec2 uv, float lod ) {
		vec2 fLodSize = vec2( textureSize( sampler, int( lod ) ) );
		vec2 cLodSize = vec2( textureSize( sampler, int( lod + 1.0 ) ) );
		vec2 fLodSizeInv = 1.0 / fLodSize;
		vec2 cLodSizeInv = 1.0 / cLodSize;
		vec4 fSample = bicubic( sampler, uv, vec4( fLodSizeInv, fLodSize ), floor( lod ) );
		vec4 cSample = bicubic( sampler, uv, vec4( cLodSizeInv, cLodSize ), ceil( lod ) );
		return mix( fSample, cSample, fract( lod ) );
	}
	vec3 getVolumeTransmissionRay( const in vec3 n, const in vec3 v, const in float thickness, const in float ior, const in mat4 modelMatrix ) {
		vec3 refractionVector = refract( - v, normalize( n ), 1.0 / ior );
		vec3 modelScale;
		modelScale.x = length( vec3( modelMatrix[ 0 ].xyz ) );
		modelScale.y = length( vec3( modelMatrix[ 1 ].xyz ) );
		modelScale.z = length( vec3( modelMatrix[ 2 ].xyz ) );
		return normalize( refractionVector ) * thickness * modelScale;
	}
	float applyIorToRoughness( const in float roughness, const in float ior ) {
		return roughness * clamp( ior * 2.0 - 2.0, 0.0, 1.0 );
	}
	vec4 getTransmissionSample( const in vec2 fragCoord, const in float roughness, const in float ior ) {
		float lod = log2( transmissionSamplerSize.x ) * applyIorToRoughness( roughness, ior );
		return textureBicubic( transmissionSamplerMap, fragCoord.xy, lod );
	}
	vec3 volumeAttenuation( const in float transmissionDistance, const in vec3 attenuationColor, const in float attenuationDistance ) {
		if ( isinf( attenuationDistance ) ) {
			return vec3( 1.0 );
		} else {
			vec3 attenuationCoefficient = -log( attenuationColor ) / attenuationDistance;
			vec3 transmittance = exp( - attenuationCoefficient * transmissionDistance );			return transmittance;
		}
	}
	vec4 getIBLVolumeRefraction( const in vec3 n, const in vec3 v, const in float roughness, const in vec3 diffuseColor,
		const in vec3 specularColor, const in float specularF90, const in vec3 position, const in mat4 modelMatrix,
		const in mat4 viewMatrix, const in mat4 projMatrix, const in float dispersion, const in float ior, const in float thickness,
		const in vec3 attenuationColor, const in float attenuationDistance ) {
		vec4 transmittedLight;
		vec3 transmittance;
		#ifdef USE_DISPERSION
			float halfSpread = ( ior - 1.0 ) * 0.025 * dispersion;
			vec3 iors = vec3( ior - halfSpread, ior, ior + halfSpread );
			for ( int i = 0; i < 3; i ++ ) {
				vec3 transmissionRay = getVolumeTransmissionRay( n, v, thickness, iors[ i ], modelMatrix );
				vec3 refractedRayExit = position + transmissionRay;
				vec4 ndcPos = projMatrix * viewMatrix * vec4( refractedRayExit, 1.0 );
				vec2 refractionCoords = ndcPos.xy / ndcPos.w;
				refractionCoords += 1.0;
				refractionCoords /= 2.0;
				vec4 transmissionSample = getTransmissionSample( refractionCoords, roughness, iors[ i ] );
				transmittedLight[ i ] = transmissionSample[ i ];
				transmittedLight.a += transmissionSample.a;
				transmittance[ i ] = diffuseColor[ i ] * volumeAttenuation( length( transmissionRay ), attenuationColor, attenuationDistance )[ i ];
			}
			transmittedLight.a /= 3.0;
		#else
			vec3 transmissionRay = getVolumeTransmissionRay( n, v, thickness, ior, modelMatrix );
			vec3 refractedRayExit = position + transmissionRay;
			vec4 ndcPos = projMatrix * viewMatrix * vec4( refractedRayExit, 1.0 );
			vec2 refractionCoords = ndcPos.xy / ndcPos.w;
			refractionCoords += 1.0;
			refractionCoords /= 2.0;
			transmittedLight = getTransmissionSample( refractionCoords, roughness, ior );
			transmittance = diffuseColor * volumeAttenuation( length( transmissionRay ), attenuationColor, attenuationDistance );
		#endif
		vec3 attenuatedColor = transmittance * transmittedLight.rgb;
		vec3 F = EnvironmentBRDF( n, v, specularColor, specularF90, roughness );
		float transmittanceFactor = ( transmittance.r + transmittance.g + transmittance.b ) / 3.0;
		return vec4( ( 1.0 - F ) * attenuatedColor, 1.0 - ( 1.0 - transmittedLight.a ) * transmittanceFactor );
	}
#endif`,nx=`#if defined( USE_UV ) || defined( USE_ANISOTROPY )
	varying vec2 vUv;
#endif
#ifdef USE_MAP
	varying vec2 vMapUv;
#endif
#ifdef USE_ALPHAMAP
	varying vec2 vAlphaMapUv;
#endif
#ifdef USE_LIGHTMAP
	varying vec2 vLightMapUv;
#endif
#ifdef USE_AOMAP
	varying vec2 vAoMapUv;
#endif
#ifdef USE_BUMPMAP
	varying vec2 vBumpMapUv;
#endif
#ifdef USE_NORMALMAP
	varying vec2 vNormalMapUv;
#endif
#ifdef USE_EMISSIVEMAP
	varying vec2 vEmissiveMapUv;
#endif
#ifdef USE_METALNESSMAP
	varying vec2 vMetalnessMapUv;
#endif
#ifdef USE_ROUGHNESSMAP
	varying vec2 vRoughnessMapUv;
#endif
#ifdef USE_ANISOTROPYMAP
	varying vec2 vAnisotropyMapUv;
#endif
#ifdef USE_CLEARCOATMAP
	varying vec2 vClearcoatMapUv;
#endif
#ifdef USE_CLEARCOAT_NORMALMAP
	varying vec2 vClearcoatNormalMapUv;
#endif
#ifdef USE_CLEARCOAT_ROUGHNESSMAP
	varying vec2 vClearcoatRoughnessMapUv;
#endif
#ifdef USE_IRIDESCENCEMAP
	varying vec2 vIridescenceMapUv;
#endif
#ifdef USE_IRIDESCENCE_THICKNESSMAP
	varying vec2 vIridescenceThicknessMapUv;
#endif
#ifdef USE_SHEEN_COLORMAP
	varying vec2 vSheenColorMapUv;
#endif
#ifdef USE_SHEEN_ROUGHNESSMAP
	varying vec2 vSheenRoughnessMapUv;
#endif
#ifdef USE_SPECULARMAP
	varying vec2 vSpecularMapUv;
#endif
#ifdef USE_SPECULAR_COLORMAP
	varying vec2 vSpecularColorMapUv;
#endif
#ifdef USE_SPECULAR_INTENSITYMAP
	varying vec2 vSpecularIntensityMapUv;
#endif
#ifdef USE_TRANSMISSIONMAP
	uniform mat3 transmissionMapTransform;
	varying vec2 vTransmissionMapUv;
#endif
#ifdef USE_THICKNESSMAP
	uniform mat3 thicknessMapTransform;
	varying vec2 vThicknessMapUv;
#endif`,ix=`#if defined( USE_UV ) || defined( USE_ANISOTROPY )
	varying vec2 vUv;
#endif
#ifdef USE_MAP
	uniform mat3 mapTransform;
	varying vec2 vMapUv;
#endif
#ifdef USE_ALPHAMAP
	uniform mat3 alphaMapTransform;
	varying vec2 vAlphaMapUv;
#endif
#ifdef USE_LIGHTMAP
	uniform mat3 lightMapTransform;
	varying vec2 vLightMapUv;
#endif
#ifdef USE_AOMAP
	uniform mat3 aoMapTransform;
	varying vec2 vAoMapUv;
#endif
#ifdef USE_BUMPMAP
	uniform mat3 bumpMapTransform;
	varying vec2 vBumpMapUv;
#endif
#ifdef USE_NORMALMAP
	uniform mat3 normalMapTransform;
	varying vec2 vNormalMapUv;
#endif
#ifdef USE_DISPLACEMENTMAP
	uniform mat3 displacementMapTransform;
	varying vec2 vDisplacementMapUv;
#endif
#ifdef USE_EMISSIVEMAP
	uniform mat3 emissiveMapTransform;
	varying vec2 vEmissiveMapUv;
#endif
#ifdef USE_METALNESSMAP
	uniform mat3 metalnessMapTransform;
	varying vec2 vMetalnessMapUv;
#endif
#ifdef USE_ROUGHNESSMAP
	uniform mat3 roughnessMapTransform;
	varying vec2 vRoughnessMapUv;
#endif
#ifdef USE_ANISOTROPYMAP
	uniform mat3 anisotropyMapTransform;
	varying vec2 vAnisotropyMapUv;
#endif
#ifdef USE_CLEARCOATMAP
	uniform mat3 clearcoatMapTransform;
	varying vec2 vClearcoatMapUv;
#endif
#ifdef USE_CLEARCOAT_NORMALMAP
	uniform mat3 clearcoatNormalMapTransform;
	varying vec2 vClearcoatNormalMapUv;
#endif
#ifdef USE_CLEARCOAT_ROUGHNESSMAP
	uniform mat3 clearcoatRoughnessMapTransform;
	varying vec2 vClearcoatRoughnessMapUv;
#endif
#ifdef USE_SHEEN_COLORMAP
	uniform mat3 sheenColorMapTransform;
	varying vec2 vSheenColorMapUv;
#endif
#ifdef USE_SHEEN_ROUGHNESSMAP
	uniform mat3 sheenRoughnessMapTransform;
	varying vec2 vSheenRoughnessMapUv;
#endif
#ifdef USE_IRIDESCENCEMAP
	uniform mat3 iridescenceMapTransform;
	varying vec2 vIridescenceMapUv;
#endif
#ifdef USE_IRIDESCENCE_THICKNESSMAP
	uniform mat3 iridescenceThicknessMapTransform;
	varying vec2 vIridescenceThicknessMapUv;
#endif
#ifdef USE_SPECULARMAP
	uniform mat3 specularMapTransform;
	varying vec2 vSpecularMapUv;
#endif
#ifdef USE_SPECULAR_COLORMAP
	uniform mat3 specularColorMapTransform;
	varying vec2 vSpecularColorMapUv;
#endif
#ifdef USE_SPECULAR_INTENSITYMAP
	uniform mat3 specularIntensityMapTransform;
	varying vec2 vSpecularIntensityMapUv;
#endif
#ifdef USE_TRANSMISSIONMAP
	uniform mat3 transmissionMapTransform;
	varying vec2 vTransmissionMapUv;
#endif
#ifdef USE_THICKNESSMAP
	uniform mat3 thicknessMapTransform;
	varying vec2 vThicknessMapUv;
#endif`,rx=`#if defined( USE_UV ) || defined( USE_ANISOTROPY )
	vUv = vec3( uv, 1 ).xy;
#endif
#ifdef USE_MAP
	vMapUv = ( mapTransform * vec3( MAP_UV, 1 ) ).xy;
#endif
#ifdef USE_ALPHAMAP
	vAlphaMapUv = ( alphaMapTransform * vec3( ALPHAMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_LIGHTMAP
	vLightMapUv = ( lightMapTransform * vec3( LIGHTMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_AOMAP
	vAoMapUv = ( aoMapTransform * vec3( AOMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_BUMPMAP
	vBumpMapUv = ( bumpMapTransform * vec3( BUMPMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_NORMALMAP
	vNormalMapUv = ( normalMapTransform * vec3( NORMALMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_DISPLACEMENTMAP
	vDisplacementMapUv = ( displacementMapTransform * vec3( DISPLACEMENTMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_EMISSIVEMAP
	vEmissiveMapUv = ( emissiveMapTransform * vec3( EMISSIVEMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_METALNESSMAP
	vMetalnessMapUv = ( metalnessMapTransform * vec3( METALNESSMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_ROUGHNESSMAP
	vRoughnessMapUv = ( roughnessMapTransform * vec3( ROUGHNESSMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_ANISOTROPYMAP
	vAnisotropyMapUv = ( anisotropyMapTransform * vec3( ANISOTROPYMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_CLEARCOATMAP
	vClearcoatMapUv = ( clearcoatMapTransform * vec3( CLEARCOATMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_CLEARCOAT_NORMALMAP
	vClearcoatNormalMapUv = ( clearcoatNormalMapTransform * vec3( CLEARCOAT_NORMALMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_CLEARCOAT_ROUGHNESSMAP
	vClearcoatRoughnessMapUv = ( clearcoatRoughnessMapTransform * vec3( CLEARCOAT_ROUGHNESSMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_IRIDESCENCEMAP
	vIridescenceMapUv = ( iridescenceMapTransform * vec3( IRIDESCENCEMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_IRIDESCENCE_THICKNESSMAP
	vIridescenceThicknessMapUv = ( iridescenceThicknessMapTransform * vec3( IRIDESCENCE_THICKNESSMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_SHEEN_COLORMAP
	vSheenColorMapUv = ( sheenColorMapTransform * vec3( SHEEN_COLORMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_SHEEN_ROUGHNESSMAP
	vSheenRoughnessMapUv = ( sheenRoughnessMapTransform * vec3( SHEEN_ROUGHNESSMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_SPECULARMAP
	vSpecularMapUv = ( specularMapTransform * vec3( SPECULARMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_SPECULAR_COLORMAP
	vSpecularColorMapUv = ( specularColorMapTransform * vec3( SPECULAR_COLORMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_SPECULAR_INTENSITYMAP
	vSpecularIntensityMapUv = ( specularIntensityMapTransform * vec3( SPECULAR_INTENSITYMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_TRANSMISSIONMAP
	vTransmissionMapUv = ( transmissionMapTransform * vec3( TRANSMISSIONMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_THICKNESSMAP
	vThicknessMapUv = ( thicknessMapTransform * vec3( THICKNESSMAP_UV, 1 ) ).xy;
#endif`,sx=`#if defined( USE_ENVMAP ) || defined( DISTANCE ) || defined ( USE_SHADOWMAP ) || defined ( USE_TRANSMISSION ) || NUM_SPOT_LIGHT_COORDS > 0
	vec4 worldPosition = vec4( transformed, 1.0 );
	#ifdef USE_BATCHING
		worldPosition = batchingMatrix * worldPosition;
	#endif
	#ifdef USE_INSTANCING
		worldPosition = instanceMatrix * worldPosition;
	#endif
	worldPosition = modelMatrix * worldPosition;
#endif`;const Fe={alphahash_fragment:o0,alphahash_pars_fragment:l0,alphamap_fragment:c0,alphamap_pars_fragment:h0,alphatest_fragment:u0,alphatest_pars_fragment:d0,aomap_fragment:f0,aomap_pars_fragment:p0,batching_pars_vertex:m0,batching_vertex:g0,begin_vertex:_0,beginnormal_vertex:v0,bsdfs:x0,iridescence_fragment:S0,bumpmap_pars_fragment:b0,clipping_planes_fragment:M0,clipping_planes_pars_fragment:w0,clipping_planes_pars_vertex:y0,clipping_planes_vertex:E0,color_fragment:T0,color_pars_fragment:A0,color_pars_vertex:R0,color_vertex:C0,common:P0,cube_uv_reflection_fragment:D0,defaultnormal_vertex:L0,displacementmap_pars_vertex:N0,displacementmap_vertex:U0,emissivemap_fragment:I0,emissivemap_pars_fragment:k0,colorspace_fragment:F0,colorspace_pars_fragment:O0,envmap_fragment:B0,envmap_common_pars_fragment:z0,envmap_pars_fragment:H0,envmap_pars_vertex:V0,envmap_physical_pars_fragment:Q0,envmap_vertex:G0,fog_vertex:W0,fog_pars_vertex:$0,fog_fragment:X0,fog_pars_fragment:q0,gradientmap_pars_fragment:Y0,lightmap_pars_fragment:j0,lights_lambert_fragment:Z0,lights_lambert_pars_fragment:K0,lights_pars_begin:J0,lights_toon_fragment:ev,lights_toon_pars_fragment:tv,lights_phong_fragment:nv,lights_phong_pars_fragment:iv,lights_physical_fragment:rv,lights_physical_pars_fragment:sv,lights_fragment_begin:av,lights_fragment_maps:ov,lights_fragment_end:lv,logdepthbuf_fragment:cv,logdepthbuf_pars_fragment:hv,logdepthbuf_pars_vertex:uv,logdepthbuf_vertex:dv,map_fragment:fv,map_pars_fragment:pv,map_particle_fragment:mv,map_particle_pars_fragment:gv,metalnessmap_fragment:_v,metalnessmap_pars_fragment:vv,morphinstance_vertex:xv,morphcolor_vertex:Sv,morphnormal_vertex:bv,morphtarget_pars_vertex:Mv,morphtarget_vertex:wv,normal_fragment_begin:yv,normal_fragment_maps:Ev,normal_pars_fragment:Tv,normal_pars_vertex:Av,normal_vertex:Rv,normalmap_pars_fragment:Cv,clearcoat_normal_fragment_begin:Pv,clearcoat_normal_fragment_maps:Dv,clearcoat_pars_fragment:Lv,iridescence_pars_fragment:Nv,opaque_fragment:Uv,packing:Iv,premultiplied_alpha_fragment:kv,project_vertex:Fv,dithering_fragment:Ov,dithering_pars_fragment:Bv,roughnessmap_fragment:zv,roughnessmap_pars_fragment:Hv,shadowmap_pars_fragment:Vv,shadowmap_pars_vertex:Gv,shadowmap_vertex:Wv,shadowmask_pars_fragment:$v,skinbase_vertex:Xv,skinning_pars_vertex:qv,skinning_vertex:Yv,skinnormal_vertex:jv,specularmap_fragment:Zv,specularmap_pars_fragment:Kv,tonemapping_fragment:Jv,tonemapping_pars_fragment:Qv,transmission_fragment:ex,transmission_pars_fragment:tx,uv_pars_fragment:nx,uv_pars_vertex:ix,uv_vertex:rx,worldpos_vertex:sx,background_vert:`varying vec2 vUv;
uniform mat3 uvTransform;
void main() {
	vUv = ( uvTransform * vec3( uv, 1 ) ).xy;
	gl_Position = vec4( position.xy, 1.0, 1.0 );
}`,background_frag:`uniform sampler2D t2D;
uniform float backgroundIntensity;
varying vec2 vUv;
void main() {
	vec4 texColor = texture2D( t2D, vUv );
	#ifdef DECODE_VIDEO_TEXTURE
		texColor = vec4( mix( pow( texColor.rgb * 0.9478672986 + vec3( 0.0521327014 ), vec3( 2.4 ) ), texColor.rgb * 0.0773993808, vec3( lessThanEqual( texColor.rgb, vec3( 0.04045 ) ) ) ), texColor.w );
	#endif
	texColor.rgb *= backgroundIntensity;
	gl_FragColor = texColor;
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
}`,backgroundCube_vert:`varying vec3 vWorldDirection;
#include <common>
void main() {
	vWorldDirection = transformDirection( position, modelMatrix );
	#include <begin_vertex>
	#include <project_vertex>
	gl_Position.z = gl_Position.w;
}`,backgroundCube_frag:`#ifdef ENVMAP_TYPE_CUBE
	uniform samplerCube envMap;
#elif defined( ENVMAP_TYPE_CUBE_UV )
	uniform sampler2D envMap;
#endif
uniform float flipEnvMap;
uniform float backgroundBlurriness;
uniform float backgroundIntensity;
uniform mat3 backgroundRotation;
varying vec3 vWorldDirection;
#include <cube_uv_reflection_fragment>
void main() {
	#ifdef ENVMAP_TYPE_CUBE
		vec4 texColor = textureCube( envMap, backgroundRotation * vec3( flipEnvMap * vWorldDirection.x, vWorldDirection.yz ) );
	#elif defined( ENVMAP_TYPE_CUBE_UV )
		vec4 texColor = textureCubeUV( envMap, backgroundRotation * vWorldDirection, backgroundBlurriness );
	#else
		vec4 texColor = vec4( 0.0, 0.0, 0.0, 1.0 );
	#endif
	texColor.rgb *= backgroundIntensity;
	gl_FragColor = texColor;
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
}`,cube_vert:`varying vec3 vWorldDirection;
#include <common>
void main() {
	vWorldDirection = transformDirection( position, modelMatrix );
	#include <begin_vertex>
	#include <project_vertex>
	gl_Position.z = gl_Position.w;
}`,cube_frag:`uniform samplerCube tCube;
uniform float tFlip;
uniform float opacity;
varying vec3 vWorldDirection;
void main() {
	vec4 texColor = textureCube( tCube, vec3( tFlip * vWorldDirection.x, vWorldDirection.yz ) );
	gl_FragColor = texColor;
	gl_FragColor.a *= opacity;
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
}`,depth_vert:`#include <common>
#include <batching_pars_vertex>
#include <uv_pars_vertex>
#include <displacementmap_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
varying vec2 vHighPrecisionZW;
void main() {
	#include <uv_vertex>
	#include <batching_vertex>
	#include <skinbase_vertex>
	#include <morphinstance_vertex>
	#ifdef USE_DISPLACEMENTMAP
		#include <beginnormal_vertex>
		#include <morphnormal_vertex>
		#include <skinnormal_vertex>
	#endif
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <displacementmap_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	vHighPrecisionZW = gl_Position.zw;
}`,depth_frag:`#if DEPTH_PACKING == 3200
	uniform float opacity;
#endif
#include <common>
#include <packing>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <alphamap_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
varying vec2 vHighPrecisionZW;
void main() {
	vec4 diffuseColor = vec4( 1.0 );
	#include <clipping_planes_fragment>
	#if DEPTH_PACKING == 3200
		diffuseColor.a = opacity;
	#endif
	#include <map_fragment>
	#include <alphamap_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	#include <logdepthbuf_fragment>
	#ifdef USE_REVERSED_DEPTH_BUFFER
		float fragCoordZ = vHighPrecisionZW[ 0 ] / vHighPrecisionZW[ 1 ];
	#else
		float fragCoordZ = 0.5 * vHighPrecisionZW[ 0 ] / vHighPrecisionZW[ 1 ] + 0.5;
	#endif
	#if DEPTH_PACKING == 3200
		gl_FragColor = vec4( vec3( 1.0 - fragCoordZ ), opacity );
	#elif DEPTH_PACKING == 3201
		gl_FragColor = packDepthToRGBA( fragCoordZ );
	#elif DEPTH_PACKING == 3202
		gl_FragColor = vec4( packDepthToRGB( fragCoordZ ), 1.0 );
	#elif DEPTH_PACKING == 3203
		gl_FragColor = vec4( packDepthToRG( fragCoordZ ), 0.0, 1.0 );
	#endif
}`,distanceRGBA_vert:`#define DISTANCE
varying vec3 vWorldPosition;
#include <common>
#include <batching_pars_vertex>
#include <uv_pars_vertex>
#include <displacementmap_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	#include <uv_vertex>
	#include <batching_vertex>
	#include <skinbase_vertex>
	#include <morphinstance_vertex>
	#ifdef USE_DISPLACEMENTMAP
		#include <beginnormal_vertex>
		#include <morphnormal_vertex>
		#include <skinnormal_vertex>
	#endif
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <displacementmap_vertex>
	#include <project_vertex>
	#include <worldpos_vertex>
	#include <clipping_planes_vertex>
	vWorldPosition = worldPosition.xyz;
}`,distanceRGBA_frag:`#define DISTANCE
uniform vec3 referencePosition;
uniform float nearDistance;
uniform float farDistance;
varying vec3 vWorldPosition;
#include <common>
#include <packing>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <alphamap_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <clipping_planes_pars_fragment>
void main () {
	vec4 diffuseColor = vec4( 1.0 );
	#include <clipping_planes_fragment>
	#include <map_fragment>
	#include <alphamap_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	float dist = length( vWorldPosition - referencePosition );
	dist = ( dist - nearDistance ) / ( farDistance - nearDistance );
	dist = saturate( dist );
	gl_FragColor = packDepthToRGBA( dist );
}`,equirect_vert:`varying vec3 vWorldDirection;
#include <common>
void main() {
	vWorldDirection = transformDirection( position, modelMatrix );
	#include <begin_vertex>
	#include <project_vertex>
}`,equirect_frag:`uniform sampler2D tEquirect;
varying vec3 vWorldDirection;
#include <common>
void main() {
	vec3 direction = normalize( vWorldDirection );
	vec2 sampleUV = equirectUv( direction );
	gl_FragColor = texture2D( tEquirect, sampleUV );
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
}`,linedashed_vert:`uniform float scale;
attribute float lineDistance;
varying float vLineDistance;
#include <common>
#include <uv_pars_vertex>
#include <color_pars_vertex>
#include <fog_pars_vertex>
#include <morphtarget_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	vLineDistance = scale * lineDistance;
	#include <uv_vertex>
	#include <color_vertex>
	#include <morphinstance_vertex>
	#include <morphcolor_vertex>
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	#include <fog_vertex>
}`,linedashed_frag:`uniform vec3 diffuse;
uniform float opacity;
uniform float dashSize;
uniform float totalSize;
varying float vLineDistance;
#include <common>
#include <color_pars_fragment>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <fog_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( diffuse, opacity );
	#include <clipping_planes_fragment>
	if ( mod( vLineDistance, totalSize ) > dashSize ) {
		discard;
	}
	vec3 outgoingLight = vec3( 0.0 );
	#include <logdepthbuf_fragment>
	#include <map_fragment>
	#include <color_fragment>
	outgoingLight = diffuseColor.rgb;
	#include <opaque_fragment>
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
	#include <premultiplied_alpha_fragment>
}`,meshbasic_vert:`#include <common>
#include <batching_pars_vertex>
#include <uv_pars_vertex>
#include <envmap_pars_vertex>
#include <color_pars_vertex>
#include <fog_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	#include <uv_vertex>
	#include <color_vertex>
	#include <morphinstance_vertex>
	#include <morphcolor_vertex>
	#include <batching_vertex>
	#if defined ( USE_ENVMAP ) || defined ( USE_SKINNING )
		#include <beginnormal_vertex>
		#include <morphnormal_vertex>
		#include <skinbase_vertex>
		#include <skinnormal_vertex>
		#include <defaultnormal_vertex>
	#endif
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	#include <worldpos_vertex>
	#include <envmap_vertex>
	#include <fog_vertex>
}`,meshbasic_frag:`uniform vec3 diffuse;
uniform float opacity;
#ifndef FLAT_SHADED
	varying vec3 vNormal;
#endif
#include <common>
#include <dithering_pars_fragment>
#include <color_pars_fragment>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <alphamap_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <aomap_pars_fragment>
#include <lightmap_pars_fragment>
#include <envmap_common_pars_fragment>
#include <envmap_pars_fragment>
#include <fog_pars_fragment>
#include <specularmap_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( diffuse, opacity );
	#include <clipping_planes_fragment>
	#include <logdepthbuf_fragment>
	#include <map_fragment>
	#include <color_fragment>
	#include <alphamap_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	#include <specularmap_fragment>
	ReflectedLight reflectedLight = ReflectedLight( vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ) );
	#ifdef USE_LIGHTMAP
		vec4 lightMapTexel = texture2D( lightMap, vLightMapUv );
		reflectedLight.indirectDiffuse += lightMapTexel.rgb * lightMapIntensity * RECIPROCAL_PI;
	#else
		reflectedLight.indirectDiffuse += vec3( 1.0 );
	#endif
	#include <aomap_fragment>
	reflectedLight.indirectDiffuse *= diffuseColor.rgb;
	vec3 outgoingLight = reflectedLight.indirectDiffuse;
	#include <envmap_fragment>
	#include <opaque_fragment>
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
	#include <premultiplied_alpha_fragment>
	#include <dithering_fragment>
}`,meshlambert_vert:`#define LAMBERT
varying vec3 vViewPosition;
#include <common>
#include <batching_pars_vertex>
#include <uv_pars_vertex>
#include <displacementmap_pars_vertex>
#include <envmap_pars_vertex>
#include <color_pars_vertex>
#include <fog_pars_vertex>
#include <normal_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <shadowmap_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	#include <uv_vertex>
	#include <color_vertex>
	#include <morphinstance_vertex>
	#include <morphcolor_vertex>
	#include <batching_vertex>
	#include <beginnormal_vertex>
	#include <morphnormal_vertex>
	#include <skinbase_vertex>
	#include <skinnormal_vertex>
	#include <defaultnormal_vertex>
	#include <normal_vertex>
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <displacementmap_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	vViewPosition = - mvPosition.xyz;
	#include <worldpos_vertex>
	#include <envmap_vertex>
	#include <shadowmap_vertex>
	#include <fog_vertex>
}`,meshlambert_frag:`#define LAMBERT
uniform vec3 diffuse;
uniform vec3 emissive;
uniform float opacity;
#include <common>
#include <packing>
#include <dithering_pars_fragment>
#include <color_pars_fragment>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <alphamap_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <aomap_pars_fragment>
#include <lightmap_pars_fragment>
#include <emissivemap_pars_fragment>
#include <envmap_common_pars_fragment>
#include <envmap_pars_fragment>
#include <fog_pars_fragment>
#include <bsdfs>
#include <lights_pars_begin>
#include <normal_pars_fragment>
#include <lights_lambert_pars_fragment>
#include <shadowmap_pars_fragment>
#include <bumpmap_pars_fragment>
#include <normalmap_pars_fragment>
#include <specularmap_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( diffuse, opacity );
	#include <clipping_planes_fragment>
	ReflectedLight reflectedLight = ReflectedLight( vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ) );
	vec3 totalEmissiveRadiance = emissive;
	#include <logdepthbuf_fragment>
	#include <map_fragment>
	#include <color_fragment>
	#include <alphamap_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	#include <specularmap_fragment>
	#include <normal_fragment_begin>
	#include <normal_fragment_maps>
	#include <emissivemap_fragment>
	#include <lights_lambert_fragment>
	#include <lights_fragment_begin>
	#include <lights_fragment_maps>
	#include <lights_fragment_end>
	#include <aomap_fragment>
	vec3 outgoingLight = reflectedLight.directDiffuse + reflectedLight.indirectDiffuse + totalEmissiveRadiance;
	#include <envmap_fragment>
	#include <opaque_fragment>
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
	#include <premultiplied_alpha_fragment>
	#include <dithering_fragment>
}`,meshmatcap_vert:`#define MATCAP
varying vec3 vViewPosition;
#include <common>
#include <batching_pars_vertex>
#include <uv_pars_vertex>
#include <color_pars_vertex>
#include <displacementmap_pars_vertex>
#include <fog_pars_vertex>
#include <normal_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	#include <uv_vertex>
	#include <color_vertex>
	#include <morphinstance_vertex>
	#include <morphcolor_vertex>
	#include <batching_vertex>
	#include <beginnormal_vertex>
	#include <morphnormal_vertex>
	#include <skinbase_vertex>
	#include <skinnormal_vertex>
	#include <defaultnormal_vertex>
	#include <normal_vertex>
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <displacementmap_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	#include <fog_vertex>
	vViewPosition = - mvPosition.xyz;
}`,meshmatcap_frag:`#define MATCAP
uniform vec3 diffuse;
uniform float opacity;
uniform sampler2D matcap;
varying vec3 vViewPosition;
#include <common>
#include <dithering_pars_fragment>
#include <color_pars_fragment>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <alphamap_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <fog_pars_fragment>
#include <normal_pars_fragment>
#include <bumpmap_pars_fragment>
#include <normalmap_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( diffuse, opacity );
	#include <clipping_planes_fragment>
	#include <logdepthbuf_fragment>
	#include <map_fragment>
	#include <color_fragment>
	#include <alphamap_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	#include <normal_fragment_begin>
	#include <normal_fragment_maps>
	vec3 viewDir = normalize( vViewPosition );
	vec3 x = normalize( vec3( viewDir.z, 0.0, - viewDir.x ) );
	vec3 y = cross( viewDir, x );
	vec2 uv = vec2( dot( x, normal ), dot( y, normal ) ) * 0.495 + 0.5;
	#ifdef USE_MATCAP
		vec4 matcapColor = texture2D( matcap, uv );
	#else
		vec4 matcapColor = vec4( vec3( mix( 0.2, 0.8, uv.y ) ), 1.0 );
	#endif
	vec3 outgoingLight = diffuseColor.rgb * matcapColor.rgb;
	#include <opaque_fragment>
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
	#include <premultiplied_alpha_fragment>
	#include <dithering_fragment>
}`,meshnormal_vert:`#define NORMAL
#if defined( FLAT_SHADED ) || defined( USE_BUMPMAP ) || defined( USE_NORMALMAP_TANGENTSPACE )
	varying vec3 vViewPosition;
#endif
#include <common>
#include <batching_pars_vertex>
#include <uv_pars_vertex>
#include <displacementmap_pars_vertex>
#include <normal_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	#include <uv_vertex>
	#include <batching_vertex>
	#include <beginnormal_vertex>
	#include <morphinstance_vertex>
	#include <morphnormal_vertex>
	#include <skinbase_vertex>
	#include <skinnormal_vertex>
	#include <defaultnormal_vertex>
	#include <normal_vertex>
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <displacementmap_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
#if defined( FLAT_SHADED ) || defined( USE_BUMPMAP ) || defined( USE_NORMALMAP_TANGENTSPACE )
	vViewPosition = - mvPosition.xyz;
#endif
}`,meshnormal_frag:`#define NORMAL
uniform float opacity;
#if defined( FLAT_SHADED ) || defined( USE_BUMPMAP ) || defined( USE_NORMALMAP_TANGENTSPACE )
	varying vec3 vViewPosition;
#endif
#include <packing>
#include <uv_pars_fragment>
#include <normal_pars_fragment>
#include <bumpmap_pars_fragment>
#include <normalmap_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( 0.0, 0.0, 0.0, opacity );
	#include <clipping_planes_fragment>
	#include <logdepthbuf_fragment>
	#include <normal_fragment_begin>
	#include <normal_fragment_maps>
	gl_FragColor = vec4( packNormalToRGB( normal ), diffuseColor.a );
	#ifdef OPAQUE
		gl_FragColor.a = 1.0;
	#endif
}`,meshphong_vert:`#define PHONG
varying vec3 vViewPosition;
#include <common>
#include <batching_pars_vertex>
#include <uv_pars_vertex>
#include <displacementmap_pars_vertex>
#include <envmap_pars_vertex>
#include <color_pars_vertex>
#include <fog_pars_vertex>
#include <normal_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <shadowmap_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	#include <uv_vertex>
	#include <color_vertex>
	#include <morphcolor_vertex>
	#include <batching_vertex>
	#include <beginnormal_vertex>
	#include <morphinstance_vertex>
	#include <morphnormal_vertex>
	#include <skinbase_vertex>
	#include <skinnormal_vertex>
	#include <defaultnormal_vertex>
	#include <normal_vertex>
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <displacementmap_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	vViewPosition = - mvPosition.xyz;
	#include <worldpos_vertex>
	#include <envmap_vertex>
	#include <shadowmap_vertex>
	#include <fog_vertex>
}`,meshphong_frag:`#define PHONG
uniform vec3 diffuse;
uniform vec3 emissive;
uniform vec3 specular;
uniform float shininess;
uniform float opacity;
#include <common>
#include <packing>
#include <dithering_pars_fragment>
#include <color_pars_fragment>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <alphamap_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <aomap_pars_fragment>
#include <lightmap_pars_fragment>
#include <emissivemap_pars_fragment>
#include <envmap_common_pars_fragment>
#include <envmap_pars_fragment>
#include <fog_pars_fragment>
#include <bsdfs>
#include <lights_pars_begin>
#include <normal_pars_fragment>
#include <lights_phong_pars_fragment>
#include <shadowmap_pars_fragment>
#include <bumpmap_pars_fragment>
#include <normalmap_pars_fragment>
#include <specularmap_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( diffuse, opacity );
	#include <clipping_planes_fragment>
	ReflectedLight reflectedLight = ReflectedLight( vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ) );
	vec3 totalEmissiveRadiance = emissive;
	#include <logdepthbuf_fragment>
	#include <map_fragment>
	#include <color_fragment>
	#include <alphamap_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	#include <specularmap_fragment>
	#include <normal_fragment_begin>
	#include <normal_fragment_maps>
	#include <emissivemap_fragment>
	#include <lights_phong_fragment>
	#include <lights_fragment_begin>
	#include <lights_fragment_maps>
	#include <lights_fragment_end>
	#include <aomap_fragment>
	vec3 outgoingLight = reflectedLight.directDiffuse + reflectedLight.indirectDiffuse + reflectedLight.directSpecular + reflectedLight.indirectSpecular + totalEmissiveRadiance;
	#include <envmap_fragment>
	#include <opaque_fragment>
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
	#include <premultiplied_alpha_fragment>
	#include <dithering_fragment>
}`,meshphysical_vert:`#define STANDARD
varying vec3 vViewPosition;
#ifdef USE_TRANSMISSION
	varying vec3 vWorldPosition;
#endif
#include <common>
#include <batching_pars_vertex>
#include <uv_pars_vertex>
#include <displacementmap_pars_vertex>
#include <color_pars_vertex>
#include <fog_pars_vertex>
#include <normal_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <shadowmap_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	#include <uv_vertex>
	#include <color_vertex>
	#include <morphinstance_vertex>
	#include <morphcolor_vertex>
	#include <batching_vertex>
	#include <beginnormal_vertex>
	#include <morphnormal_vertex>
	#include <skinbase_vertex>
	#include <skinnormal_vertex>
	#include <defaultnormal_vertex>
	#include <normal_vertex>
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <displacementmap_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	vViewPosition = - mvPosition.xyz;
	#include <worldpos_vertex>
	#include <shadowmap_vertex>
	#include <fog_vertex>
#ifdef USE_TRANSMISSION
	vWorldPosition = worldPosition.xyz;
#endif
}`,meshphysical_frag:`#define STANDARD
#ifdef PHYSICAL
	#define IOR
	#define USE_SPECULAR
#endif
uniform vec3 diffuse;
uniform vec3 emissive;
uniform float roughness;
uniform float metalness;
uniform float opacity;
#ifdef IOR
	uniform float ior;
#endif
#ifdef USE_SPECULAR
	uniform float specularIntensity;
	uniform vec3 specularColor;
	#ifdef USE_SPECULAR_COLORMAP
		uniform sampler2D specularColorMap;
	#endif
	#ifdef USE_SPECULAR_INTENSITYMAP
		uniform sampler2D specularIntensityMap;
	#endif
#endif
#ifdef USE_CLEARCOAT
	uniform float clearcoat;
	uniform float clearcoatRoughness;
#endif
#ifdef USE_DISPERSION
	uniform float dispersion;
#endif
#ifdef USE_IRIDESCENCE
	uniform float iridescence;
	uniform float iridescenceIOR;
	uniform float iridescenceThicknessMinimum;
	uniform float iridescenceThicknessMaximum;
#endif
#ifdef USE_SHEEN
	uniform vec3 sheenColor;
	uniform float sheenRoughness;
	#ifdef USE_SHEEN_COLORMAP
		uniform sampler2D sheenColorMap;
	#endif
	#ifdef USE_SHEEN_ROUGHNESSMAP
		uniform sampler2D sheenRoughnessMap;
	#endif
#endif
#ifdef USE_ANISOTROPY
	uniform vec2 anisotropyVector;
	#ifdef USE_ANISOTROPYMAP
		uniform sampler2D anisotropyMap;
	#endif
#endif
varying vec3 vViewPosition;
#include <common>
#include <packing>
#include <dithering_pars_fragment>
#include <color_pars_fragment>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <alphamap_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <aomap_pars_fragment>
#include <lightmap_pars_fragment>
#include <emissivemap_pars_fragment>
#include <iridescence_fragment>
#include <cube_uv_reflection_fragment>
#include <envmap_common_pars_fragment>
#include <envmap_physical_pars_fragment>
#include <fog_pars_fragment>
#include <lights_pars_begin>
#include <normal_pars_fragment>
#include <lights_physical_pars_fragment>
#include <transmission_pars_fragment>
#include <shadowmap_pars_fragment>
#include <bumpmap_pars_fragment>
#include <normalmap_pars_fragment>
#include <clearcoat_pars_fragment>
#include <iridescence_pars_fragment>
#include <roughnessmap_pars_fragment>
#include <metalnessmap_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( diffuse, opacity );
	#include <clipping_planes_fragment>
	ReflectedLight reflectedLight = ReflectedLight( vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ) );
	vec3 totalEmissiveRadiance = emissive;
	#include <logdepthbuf_fragment>
	#include <map_fragment>
	#include <color_fragment>
	#include <alphamap_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	#include <roughnessmap_fragment>
	#include <metalnessmap_fragment>
	#include <normal_fragment_begin>
	#include <normal_fragment_maps>
	#include <clearcoat_normal_fragment_begin>
	#include <clearcoat_normal_fragment_maps>
	#include <emissivemap_fragment>
	#include <lights_physical_fragment>
	#include <lights_fragment_begin>
	#include <lights_fragment_maps>
	#include <lights_fragment_end>
	#include <aomap_fragment>
	vec3 totalDiffuse = reflectedLight.directDiffuse + reflectedLight.indirectDiffuse;
	vec3 totalSpecular = reflectedLight.directSpecular + reflectedLight.indirectSpecular;
	#include <transmission_fragment>
	vec3 outgoingLight = totalDiffuse + totalSpecular + totalEmissiveRadiance;
	#ifdef USE_SHEEN
		float sheenEnergyComp = 1.0 - 0.157 * max3( material.sheenColor );
		outgoingLight = outgoingLight * sheenEnergyComp + sheenSpecularDirect + sheenSpecularIndirect;
	#endif
	#ifdef USE_CLEARCOAT
		float dotNVcc = saturate( dot( geometryClearcoatNormal, geometryViewDir ) );
		vec3 Fcc = F_Schlick( material.clearcoatF0, material.clearcoatF90, dotNVcc );
		outgoingLight = outgoingLight * ( 1.0 - material.clearcoat * Fcc ) + ( clearcoatSpecularDirect + clearcoatSpecularIndirect ) * material.clearcoat;
	#endif
	#include <opaque_fragment>
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
	#include <premultiplied_alpha_fragment>
	#include <dithering_fragment>
}`,meshtoon_vert:`#define TOON
varying vec3 vViewPosition;
#include <common>
#include <batching_pars_vertex>
#include <uv_pars_vertex>
#include <displacementmap_pars_vertex>
#include <color_pars_vertex>
#include <fog_pars_vertex>
#include <normal_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <shadowmap_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	#include <uv_vertex>
	#include <color_vertex>
	#include <morphinstance_vertex>
	#include <morphcolor_vertex>
	#include <batching_vertex>
	#include <beginnormal_vertex>
	#include <morphnormal_vertex>
	#include <skinbase_vertex>
	#include <skinnormal_vertex>
	#include <defaultnormal_vertex>
	#include <normal_vertex>
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <displacementmap_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	vViewPosition = - mvPosition.xyz;
	#include <worldpos_vertex>
	#include <shadowmap_vertex>
	#include <fog_vertex>
}`,meshtoon_frag:`#define TOON
uniform vec3 diffuse;
uniform vec3 emissive;
uniform float opacity;
#include <common>
#include <packing>
#include <dithering_pars_fragment>
#include <color_pars_fragment>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <alphamap_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <aomap_pars_fragment>
#include <lightmap_pars_fragment>
#include <emissivemap_pars_fragment>
#include <gradientmap_pars_fragment>
#include <fog_pars_fragment>
#include <bsdfs>
#include <lights_pars_begin>
#include <normal_pars_fragment>
#include <lights_toon_pars_fragment>
#include <shadowmap_pars_fragment>
#include <bumpmap_pars_fragment>
#include <normalmap_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( diffuse, opacity );
	#include <clipping_planes_fragment>
	ReflectedLight reflectedLight = ReflectedLight( vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ) );
	vec3 totalEmissiveRadiance = emissive;
	#include <logdepthbuf_fragment>
	#include <map_fragment>
	#include <color_fragment>
	#include <alphamap_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	#include <normal_fragment_begin>
	#include <normal_fragment_maps>
	#include <emissivemap_fragment>
	#include <lights_toon_fragment>
	#include <lights_fragment_begin>
	#include <lights_fragment_maps>
	#include <lights_fragment_end>
	#include <aomap_fragment>
	vec3 outgoingLight = reflectedLight.directDiffuse + reflectedLight.indirectDiffuse + totalEmissiveRadiance;
	#include <opaque_fragment>
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
	#include <premultiplied_alpha_fragment>
	#include <dithering_fragment>
}`,points_vert:`uniform float size;
uniform float scale;
#include <common>
#include <color_pars_vertex>
#include <fog_pars_vertex>
#include <morphtarget_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
#ifdef USE_POINTS_UV
	varying vec2 vUv;
	uniform mat3 uvTransform;
#endif
void main() {
	#ifdef USE_POINTS_UV
		vUv = ( uvTransform * vec3( uv, 1 ) ).xy;
	#endif
	#include <color_vertex>
	#include <morphinstance_vertex>
	#include <morphcolor_vertex>
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <project_vertex>
	gl_PointSize = size;
	#ifdef USE_SIZEATTENUATION
		bool isPerspective = isPerspectiveMatrix( projectionMatrix );
		if ( isPerspective ) gl_PointSize *= ( scale / - mvPosition.z );
	#endif
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	#include <worldpos_vertex>
	#include <fog_vertex>
}`,points_frag:`uniform vec3 diffuse;
uniform float opacity;
#include <common>
#include <color_pars_fragment>
#include <map_particle_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <fog_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( diffuse, opacity );
	#include <clipping_planes_fragment>
	vec3 outgoingLight = vec3( 0.0 );
	#include <logdepthbuf_fragment>
	#include <map_particle_fragment>
	#include <color_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	outgoingLight = diffuseColor.rgb;
	#include <opaque_fragment>
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
	#include <premultiplied_alpha_fragment>
}`,shadow_vert:`#include <common>
#include <batching_pars_vertex>
#include <fog_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <shadowmap_pars_vertex>
void main() {
	#include <batching_vertex>
	#include <beginnormal_vertex>
	#include <morphinstance_vertex>
	#include <morphnormal_vertex>
	#include <skinbase_vertex>
	#include <skinnormal_vertex>
	#include <defaultnormal_vertex>
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <worldpos_vertex>
	#include <shadowmap_vertex>
	#include <fog_vertex>
}`,shadow_frag:`uniform vec3 color;
uniform float opacity;
#include <common>
#include <packing>
#include <fog_pars_fragment>
#include <bsdfs>
#include <lights_pars_begin>
#include <logdepthbuf_pars_fragment>
#include <shadowmap_pars_fragment>
#include <shadowmask_pars_fragment>
void main() {
	#include <logdepthbuf_fragment>
	gl_FragColor = vec4( color, opacity * ( 1.0 - getShadowMask() ) );
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
}`,sprite_vert:`uniform float rotation;
uniform vec2 center;
#include <common>
#include <uv_pars_vertex>
#include <fog_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	#include <uv_vertex>
	vec4 mvPosition = modelViewMatrix[ 3 ];
	vec2 scale = vec2( length( modelMatrix[ 0 ].xyz ), length( modelMatrix[ 1 ].xyz ) );
	#ifndef USE_SIZEATTENUATION
		bool isPerspective = isPerspectiveMatrix( projectionMatrix );
		if ( isPerspective ) scale *= - mvPosition.z;
	#endif
	vec2 alignedPosition = ( position.xy - ( center - vec2( 0.5 ) ) ) * scale;
	vec2 rotatedPosition;
	rotatedPosition.x = cos( rotation ) * alignedPosition.x - sin( rotation ) * alignedPosition.y;
	rotatedPosition.y = sin( rotation ) * alignedPosition.x + cos( rotation ) * alignedPosition.y;
	mvPosition.xy += rotatedPosition;
	gl_Position = projectionMatrix * mvPosition;
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	#include <fog_vertex>
}`,sprite_frag:`uniform vec3 diffuse;
uniform float opacity;
#include <common>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <alphamap_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <fog_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( diffuse, opacity );
	#include <clipping_planes_fragment>
	vec3 outgoingLight = vec3( 0.0 );
	#include <logdepthbuf_fragment>
	#include <map_fragment>
	#include <alphamap_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	outgoingLight = diffuseColor.rgb;
	#include <opaque_fragment>
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
}`},le={common:{diffuse:{value:new Xe(16777215)},opacity:{value:1},map:{value:null},mapTransform:{value:new Ue},alphaMap:{value:null},alphaMapTransform:{value:new Ue},alphaTest:{value:0}},specularmap:{specularMap:{value:null},specularMapTransform:{value:new Ue}},envmap:{envMap:{value:null},envMapRotation:{value:new Ue},flipEnvMap:{value:-1},reflectivity:{value:1},ior:{value:1.5},refractionRatio:{value:.98}},aomap:{aoMap:{value:null},aoMapIntensity:{value:1},aoMapTransform:{value:new Ue}},lightmap:{lightMap:{value:null},lightMapIntensity:{value:1},lightMapTransform:{value:new Ue}},bumpmap:{bumpMap:{value:null},bumpMapTransform:{value:new Ue},bumpScale:{value:1}},normalmap:{normalMap:{value:null},normalMapTransform:{value:new Ue},normalScale:{value:new ke(1,1)}},displacementmap:{displacementMap:{value:null},displacementMapTransform:{value:new Ue},displacementScale:{value:1},displacementBias:{value:0}},emissivemap:{emissiveMap:{value:null},emissiveMapTransform:{value:new Ue}},metalnessmap:{metalnessMap:{value:null},metalnessMapTransform:{value:new Ue}},roughnessmap:{roughnessMap:{value:null},roughnessMapTransform:{value:new Ue}},gradientmap:{gradientMap:{value:null}},fog:{fogDensity:{value:25e-5},fogNear:{value:1},fogFar:{value:2e3},fogColor:{value:new Xe(16777215)}},lights:{ambientLightColor:{value:[]},lightProbe:{value:[]},directionalLights:{value:[],properties:{direction:{},color:{}}},directionalLightShadows:{value:[],properties:{shadowIntensity:1,shadowBias:{},shadowNormalBias:{},shadowRadius:{},shadowMapSize:{}}},directionalShadowMap:{value:[]},directionalShadowMatrix:{value:[]},spotLights:{value:[],properties:{color:{},position:{},direction:{},distance:{},coneCos:{},penumbraCos:{},decay:{}}},spotLightShadows:{value:[],properties:{shadowIntensity:1,shadowBias:{},shadowNormalBias:{},shadowRadius:{},shadowMapSize:{}}},spotLightMap:{value:[]},spotShadowMap:{value:[]},spotLightMatrix:{value:[]},pointLights:{value:[],properties:{color:{},position:{},decay:{},distance:{}}},pointLightShadows:{value:[],properties:{shadowIntensity:1,shadowBias:{},shadowNormalBias:{},shadowRadius:{},shadowMapSize:{},shadowCameraNear:{},shadowCameraFar:{}}},pointShadowMap:{value:[]},pointShadowMatrix:{value:[]},hemisphereLights:{value:[],properties:{direction:{},skyColor:{},groundColor:{}}},rectAreaLights:{value:[],properties:{color:{},position:{},width:{},height:{}}},ltc_1:{value:null},ltc_2:{value:null}},points:{diffuse:{value:new Xe(16777215)},opacity:{value:1},size:{value:1},scale:{value:1},map:{value:null},alphaMap:{value:null},alphaMapTransform:{value:new Ue},alphaTest:{value:0},uvTransform:{value:new Ue}},sprite:{diffuse:{value:new Xe(16777215)},opacity:{value:1},center:{value:new ke(.5,.5)},rotation:{value:0},map:{value:null},mapTransform:{value:new Ue},alphaMap:{value:null},alphaMapTransform:{value:new Ue},alphaTest:{value:0}}},mn={basic:{uniforms:Dt([le.common,le.specularmap,le.envmap,le.aomap,le.lightmap,le.fog]),vertexShader:Fe.meshbasic_vert,fragmentShader:Fe.meshbasic_frag},lambert:{uniforms:Dt([le.common,le.specularmap,le.envmap,le.aomap,le.lightmap,le.emissivemap,le.bumpmap,le.normalmap,le.displacementmap,le.fog,le.lights,{emissive:{value:new Xe(0)}}]),vertexShader:Fe.meshlambert_vert,fragmentShader:Fe.meshlambert_frag},phong:{uniforms:Dt([le.common,le.specularmap,le.envmap,le.aomap,le.lightmap,le.emissivemap,le.bumpmap,le.normalmap,le.displacementmap,le.fog,le.lights,{emissive:{value:new Xe(0)},specular:{value:new Xe(1118481)},shininess:{value:30}}]),vertexShader:Fe.meshphong_vert,fragmentShader:Fe.meshphong_frag},standard:{uniforms:Dt([le.common,le.envmap,le.aomap,le.lightmap,le.emissivemap,le.bumpmap,le.normalmap,le.displacementmap,le.roughnessmap,le.metalnessmap,le.fog,le.lights,{emissive:{value:new Xe(0)},roughness:{value:1},metalness:{value:0},envMapIntensity:{value:1}}]),vertexShader:Fe.meshphysical_vert,fragmentShader:Fe.meshphysical_frag},toon:{uniforms:Dt([le.common,le.aomap,le.lightmap,le.emissivemap,le.bumpmap,le.normalmap,le.displacementmap,le.gradientmap,le.fog,le.lights,{emissive:{value:new Xe(0)}}]),vertexShader:Fe.meshtoon_vert,fragmentShader:Fe.meshtoon_frag},matcap:{uniforms:Dt([le.common,le.bumpmap,le.normalmap,le.displacementmap,le.fog,{matcap:{value:null}}]),vertexShader:Fe.meshmatcap_vert,fragmentShader:Fe.meshmatcap_frag},points:{uniforms:Dt([le.points,le.fog]),vertexShader:Fe.points_vert,fragmentShader:Fe.points_frag},dashed:{uniforms:Dt([le.common,le.fog,{scale:{value:1},dashSize:{value:1},totalSize:{value:2}}]),vertexShader:Fe.linedashed_vert,fragmentShader:Fe.linedashed_frag},depth:{uniforms:Dt([le.common,le.displacementmap]),vertexShader:Fe.depth_vert,fragmentShader:Fe.depth_frag},normal:{uniforms:Dt([le.common,le.bumpmap,le.normalmap,le.displacementmap,{opacity:{value:1}}]),vertexShader:Fe.meshnormal_vert,fragmentShader:Fe.meshnormal_frag},sprite:{uniforms:Dt([le.sprite,le.fog]),vertexShader:Fe.sprite_vert,fragmentShader:Fe.sprite_frag},background:{uniforms:{uvTransform:{value:new Ue},t2D:{value:null},backgroundIntensity:{value:1}},vertexShader:Fe.background_vert,fragmentShader:Fe.background_frag},backgroundCube:{uniforms:{envMap:{value:null},flipEnvMap:{value:-1},backgroundBlurriness:{value:0},backgroundIntensity:{value:1},backgroundRotation:{value:new Ue}},vertexShader:Fe.backgroundCube_vert,fragmentShader:Fe.backgroundCube_frag},cube:{uniforms:{tCube:{value:null},tFlip:{value:-1},opacity:{value:1}},vertexShader:Fe.cube_vert,fragmentShader:Fe.cube_frag},equirect:{uniforms:{tEquirect:{value:null}},vertexShader:Fe.equirect_vert,fragmentShader:Fe.equirect_frag},distanceRGBA:{uniforms:Dt([le.common,le.displacementmap,{referencePosition:{value:new O},nearDistance:{value:1},farDistance:{value:1e3}}]),vertexShader:Fe.distanceRGBA_vert,fragmentShader:Fe.distanceRGBA_frag},shadow:{uniforms:Dt([le.lights,le.fog,{color:{value:new Xe(0)},opacity:{value:1}}]),vertexShader:Fe.shadow_vert,fragmentShader:Fe.shadow_frag}};mn.physical={uniforms:Dt([mn.standard.uniforms,{clearcoat:{value:0},clearcoatMap:{value:null},clearcoatMapTransform:{value:new Ue},clearcoatNormalMap:{value:null},clearcoatNormalMapTransform:{value:new Ue},clearcoatNormalScale:{value:new ke(1,1)},clearcoatRoughness:{value:0},clearcoatRoughnessMap:{value:null},clearcoatRoughnessMapTransform:{value:new Ue},dispersion:{value:0},iridescence:{value:0},iridescenceMap:{value:null},iridescenceMapTransform:{value:new Ue},iridescenceIOR:{value:1.3},iridescenceThicknessMinimum:{value:100},iridescenceThicknessMaximum:{value:400},iridescenceThicknessMap:{value:null},iridescenceThicknessMapTransform:{value:new Ue},sheen:{value:0},sheenColor:{value:new Xe(0)},sheenColorMap:{value:null},sheenColorMapTransform:{value:new Ue},sheenRoughness:{value:1},sheenRoughnessMap:{value:null},sheenRoughnessMapTransform:{value:new Ue},transmission:{value:0},transmissionMap:{value:null},transmissionMapTransform:{value:new Ue},transmissionSamplerSize:{value:new ke},transmissionSamplerMap:{value:null},thickness:{value:0},thicknessMap:{value:null},thicknessMapTransform:{value:new Ue},attenuationDistance:{value:0},attenuationColor:{value:new Xe(0)},specularColor:{value:new Xe(1,1,1)},specularColorMap:{value:null},specularColorMapTransform:{value:new Ue},specularIntensity:{value:1},specularIntensityMap:{value:null},specularIntensityMapTransform:{value:new Ue},anisotropyVector:{value:new ke},anisotropyMap:{value:null},anisotropyMapTransform:{value:new Ue}}]),vertexShader:Fe.meshphysical_vert,fragmentShader:Fe.meshphysical_frag};const ma={r:0,b:0,g:0},vi=new An,ax=new dt;function ox(n,e,t,i,r,s,a){const o=new Xe(0);let l=s===!0?0:1,c,u,d=null,h=0,p=null;function g(y){let M=y.isScene===!0?y.background:null;return M&&M.isTexture&&(M=(y.backgroundBlurriness>0?t:e).get(M)),M}function _(y){let M=!1;const C=g(y);C===null?f(o,l):C&&C.isColor&&(f(C,1),M=!0);const A=n.xr.getEnvironmentBlendMode();A==="additive"?i.buffers.color.setClear(0,0,0,1,a):A==="alpha-blend"&&i.buffers.color.setClear(0,0,0,0,a),(n.autoClear||M)&&(i.buffers.depth.setTest(!0),i.buffers.depth.setMask(!0),i.buffers.color.setMask(!0),n.clear(n.autoClearColor,n.autoClearDepth,n.autoClearStencil))}function m(y,M){const C=g(M);C&&(C.isCubeTexture||C.mapping===Is)?(u===void 0&&(u=new hn(new Wr(1,1,1),new qn({name:"BackgroundCubeMaterial",uniforms:sr(mn.backgroundCube.uniforms),vertexShader:mn.backgroundCube.vertexShader,fragmentShader:mn.backgroundCube.fragmentShader,side:It,depthTest:!1,depthWrite:!1,fog:!1,allowOverride:!1})),u.geometry.deleteAttribute("normal"),u.geometry.deleteAttribute("uv"),u.onBeforeRender=function(A,D,F){this.matrixWorld.copyPosition(F.matrixWorld)},Object.defineProperty(u.material,"envMap",{get:function(){return this.uniforms.envMap.value}}),r.update(u)),vi.copy(M.backgroundRotation),vi.x*=-1,vi.y*=-1,vi.z*=-1,C.isCubeTexture&&C.isRenderTargetTexture===!1&&(vi.y*=-1,vi.z*=-1),u.material.uniforms.envMap.value=C,u.material.uniforms.flipEnvMap.value=C.isCubeTexture&&C.isRenderTargetTexture===!1?-1:1,u.material.uniforms.backgroundBlurriness.value=M.backgroundBlurriness,u.material.uniforms.backgroundIntensity.value=M.backgroundIntensity,u.material.uniforms.backgroundRotation.value.setFromMatrix4(ax.makeRotationFromEuler(vi)),u.material.toneMapped=Ge.getTransfer(C.colorSpace)!==je,(d!==C||h!==C.version||p!==n.toneMapping)&&(u.material.needsUpdate=!0,d=C,h=C.version,p=n.toneMapping),u.layers.enableAll(),y.unshift(u,u.geometry,u.material,0,0,null)):C&&C.isTexture&&(c===void 0&&(c=new hn(new pa(2,2),new qn({name:"BackgroundMaterial",uniforms:sr(mn.background.uniforms),vertexShader:mn.background.vertexShader,fragmentShader:mn.background.fragmentShader,side:On,depthTest:!1,depthWrite:!1,fog:!1,allowOverride:!1})),c.geometry.deleteAttribute("normal"),Object.defineProperty(c.material,"map",{get:function(){return this.uniforms.t2D.value}}),r.update(c)),c.material.uniforms.t2D.value=C,c.material.uniforms.backgroundIntensity.value=M.backgroundIntensity,c.material.toneMapped=Ge.getTransfer(C.colorSpace)!==je,C.matrixAutoUpdate===!0&&C.updateMatrix(),c.material.uniforms.uvTransform.value.copy(C.matrix),(d!==C||h!==C.version||p!==n.toneMapping)&&(c.material.needsUpdate=!0,d=C,h=C.version,p=n.toneMapping),c.layers.enableAll(),y.unshift(c,c.geometry,c.material,0,0,null))}function f(y,M){y.getRGB(ma,Ld(n)),i.buffers.color.setClear(ma.r,ma.g,ma.b,M,a)}function E(){u!==void 0&&(u.geometry.dispose(),u.material.dispose(),u=void 0),c!==void 0&&(c.geometry.dispose(),c.material.dispose(),c=void 0)}return{getClearColor:function(){return o},setClearColor:function(y,M=1){o.set(y),l=M,f(o,l)},getClearAlpha:function(){return l},setClearAlpha:function(y){l=y,f(o,l)},render:_,addToRenderList:m,dispose:E}}function lx(n,e){const t=n.getParameter(n.MAX_VERTEX_ATTRIBS),i={},r=h(null);let s=r,a=!1;function o(b,P,k,G,W){let Y=!1;const q=d(G,k,P);s!==q&&(s=q,c(s.object)),Y=p(b,G,k,W),Y&&g(b,G,k,W),W!==null&&e.update(W,n.ELEMENT_ARRAY_BUFFER),(Y||a)&&(a=!1,M(b,P,k,G),W!==null&&n.bindBuffer(n.ELEMENT_ARRAY_BUFFER,e.get(W).buffer))}function l(){return n.createVertexArray()}function c(b){return n.bindVertexArray(b)}function u(b){return n.deleteVertexArray(b)}function d(b,P,k){const G=k.wireframe===!0;let W=i[b.id];W===void 0&&(W={},i[b.id]=W);let Y=W[P.id];Y===void 0&&(Y={},W[P.id]=Y);let q=Y[G];return q===void 0&&(q=h(l()),Y[G]=q),q}function h(b){const P=[],k=[],G=[];for(let W=0;W<t;W++)P[W]=0,k[W]=0,G[W]=0;return{geometry:null,program:null,wireframe:!1,newAttributes:P,enabledAttributes:k,attributeDivisors:G,object:b,attributes:{},index:null}}function p(b,P,k,G){const W=s.attributes,Y=P.attributes;let q=0;const te=k.getAttributes();for(const V in te)if(te[V].location>=0){const oe=W[V];let ye=Y[V];if(ye===void 0&&(V==="instanceMatrix"&&b.instanceMatrix&&(ye=b.instanceMatrix),V==="instanceColor"&&b.instanceColor&&(ye=b.instanceColor)),oe===void 0||oe.attribute!==ye||ye&&oe.data!==ye.data)return!0;q++}return s.attributesNum!==q||s.index!==G}function g(b,P,k,G){const W={},Y=P.attributes;let q=0;const te=k.getAttributes();for(const V in te)if(te[V].location>=0){let oe=Y[V];oe===void 0&&(V==="instanceMatrix"&&b.instanceMatrix&&(oe=b.instanceMatrix),V==="instanceColor"&&b.instanceColor&&(oe=b.instanceColor));const ye={};ye.attribute=oe,oe&&oe.data&&(ye.data=oe.data),W[V]=ye,q++}s.attributes=W,s.attributesNum=q,s.index=G}function _(){const b=s.newAttributes;for(let P=0,k=b.length;P<k;P++)b[P]=0}function m(b){f(b,0)}function f(b,P){const k=s.newAttributes,G=s.enabledAttributes,W=s.attributeDivisors;k[b]=1,G[b]===0&&(n.enableVertexAttribArray(b),G[b]=1),W[b]!==P&&(n.vertexAttribDivisor(b,P),W[b]=P)}function E(){const b=s.newAttributes,P=s.enabledAttributes;for(let k=0,G=P.length;k<G;k++)P[k]!==b[k]&&(n.disableVertexAttribArray(k),P[k]=0)}function y(b,P,k,G,W,Y,q){q===!0?n.vertexAttribIPointer(b,P,k,W,Y):n.vertexAttribPointer(b,P,k,G,W,Y)}function M(b,P,k,G){_();const W=G.attributes,Y=k.getAttributes(),q=P.defaultAttributeValues;for(const te in Y){const V=Y[te];if(V.location>=0){let se=W[te];if(se===void 0&&(te==="instanceMatrix"&&b.instanceMatrix&&(se=b.instanceMatrix),te==="instanceColor"&&b.instanceColor&&(se=b.instanceColor)),se!==void 0){const oe=se.normalized,ye=se.itemSize,ze=e.get(se);if(ze===void 0)continue;const Qe=ze.buffer,st=ze.type,qe=ze.bytesPerElement,j=st===n.INT||st===n.UNSIGNED_INT||se.gpuType===Wo;if(se.isInterleavedBufferAttribute){const J=se.data,pe=J.stride,De=se.offset;if(J.isInstancedInterleavedBuffer){for(let we=0;we<V.locationSize;we++)f(V.location+we,J.meshPerAttribute);b.isInstancedMesh!==!0&&G._maxInstanceCount===void 0&&(G._maxInstanceCount=J.meshPerAttribute*J.count)}else for(let we=0;we<V.locationSize;we++)m(V.location+we);n.bindBuffer(n.ARRAY_BUFFER,Qe);for(let we=0;we<V.locationSize;we++)y(V.location+we,ye/V.locationSize,st,oe,pe*qe,(De+ye/V.locationSize*we)*qe,j)}else{if(se.isInstancedBufferAttribute){for(let J=0;J<V.locationSize;J++)f(V.location+J,se.meshPerAttribute);b.isInstancedMesh!==!0&&G._maxInstanceCount===void 0&&(G._maxInstanceCount=se.meshPerAttribute*se.count)}else for(let J=0;J<V.locationSize;J++)m(V.location+J);n.bindBuffer(n.ARRAY_BUFFER,Qe);for(let J=0;J<V.locationSize;J++)y(V.location+J,ye/V.locationSize,st,oe,ye*qe,ye/V.locationSize*J*qe,j)}}else if(q!==void 0){const oe=q[te];if(oe!==void 0)switch(oe.length){case 2:n.vertexAttrib2fv(V.location,oe);break;case 3:n.vertexAttrib3fv(V.location,oe);break;case 4:n.vertexAttrib4fv(V.location,oe);break;default:n.vertexAttrib1fv(V.location,oe)}}}}E()}function C(){F();for(const b in i){const P=i[b];for(const k in P){const G=P[k];for(const W in G)u(G[W].object),delete G[W];delete P[k]}delete i[b]}}function A(b){if(i[b.id]===void 0)return;const P=i[b.id];for(const k in P){const G=P[k];for(const W in G)u(G[W].object),delete G[W];delete P[k]}delete i[b.id]}function D(b){for(const P in i){const k=i[P];if(k[b.id]===void 0)continue;const G=k[b.id];for(const W in G)u(G[W].object),delete G[W];delete k[b.id]}}function F(){w(),a=!0,s!==r&&(s=r,c(s.object))}function w(){r.geometry=null,r.program=null,r.wireframe=!1}return{setup:o,reset:F,resetDefaultState:w,dispose:C,releaseStatesOfGeometry:A,releaseStatesOfProgram:D,initAttributes:_,enableAttribute:m,disableUnusedAttributes:E}}function cx(n,e,t){let i;function r(c){i=c}function s(c,u){n.drawArrays(i,c,u),t.update(u,i,1)}function a(c,u,d){d!==0&&(n.drawArraysInstanced(i,c,u,d),t.update(u,i,d))}function o(c,u,d){if(d===0)return;e.get("WEBGL_multi_draw").multiDrawArraysWEBGL(i,c,0,u,0,d);let p=0;for(let g=0;g<d;g++)p+=u[g];t.update(p,i,1)}function l(c,u,d,h){if(d===0)return;const p=e.get("WEBGL_multi_draw");if(p===null)for(let g=0;g<c.length;g++)a(c[g],u[g],h[g]);else{p.multiDrawArraysInstancedWEBGL(i,c,0,u,0,h,0,d);let g=0;for(let _=0;_<d;_++)g+=u[_]*h[_];t.update(g,i,1)}}this.setMode=r,this.render=s,this.renderInstances=a,this.renderMultiDraw=o,this.renderMultiDrawInstances=l}function hx(n,e,t,i){let r;function s(){if(r!==void 0)return r;if(e.has("EXT_texture_filter_anisotropic")===!0){const D=e.get("EXT_texture_filter_anisotropic");r=n.getParameter(D.MAX_TEXTURE_MAX_ANISOTROPY_EXT)}else r=0;return r}function a(D){return!(D!==rn&&i.convert(D)!==n.getParameter(n.IMPLEMENTATION_COLOR_READ_FORMAT))}function o(D){const F=D===Dr&&(e.has("EXT_color_buffer_half_float")||e.has("EXT_color_buffer_float"));return!(D!==Mn&&i.convert(D)!==n.getParameter(n.IMPLEMENTATION_COLOR_READ_TYPE)&&D!==wn&&!F)}function l(D){if(D==="highp"){if(n.getShaderPrecisionFormat(n.VERTEX_SHADER,n.HIGH_FLOAT).precision>0&&n.getShaderPrecisionFormat(n.FRAGMENT_SHADER,n.HIGH_FLOAT).precision>0)return"highp";D="mediump"}return D==="mediump"&&n.getShaderPrecisionFormat(n.VERTEX_SHADER,n.MEDIUM_FLOAT).precision>0&&n.getShaderPrecisionFormat(n.FRAGMENT_SHADER,n.MEDIUM_FLOAT).precision>0?"mediump":"lowp"}let c=t.precision!==void 0?t.precision:"highp";const u=l(c);u!==c&&(console.warn("THREE.WebGLRenderer:",c,"not supported, using",u,"instead."),c=u);const d=t.logarithmicDepthBuffer===!0,h=t.reversedDepthBuffer===!0&&e.has("EXT_clip_control"),p=n.getParameter(n.MAX_TEXTURE_IMAGE_UNITS),g=n.getParameter(n.MAX_VERTEX_TEXTURE_IMAGE_UNITS),_=n.getParameter(n.MAX_TEXTURE_SIZE),m=n.getParameter(n.MAX_CUBE_MAP_TEXTURE_SIZE),f=n.getParameter(n.MAX_VERTEX_ATTRIBS),E=n.getParameter(n.MAX_VERTEX_UNIFORM_VECTORS),y=n.getParameter(n.MAX_VARYING_VECTORS),M=n.getParameter(n.MAX_FRAGMENT_UNIFORM_VECTORS),C=g>0,A=n.getParameter(n.MAX_SAMPLES);return{isWebGL2:!0,getMaxAnisotropy:s,getMaxPrecision:l,textureFormatReadable:a,textureTypeReadable:o,precision:c,logarithmicDepthBuffer:d,reversedDepthBuffer:h,maxTextures:p,maxVertexTextures:g,maxTextureSize:_,maxCubemapSize:m,maxAttributes:f,maxVertexUniforms:E,maxVaryings:y,maxFragmentUniforms:M,vertexTextures:C,maxSamples:A}}function ux(n){const e=this;let t=null,i=0,r=!1,s=!1;const a=new jn,o=new Ue,l={value:null,needsUpdate:!1};this.uniform=l,this.numPlanes=0,this.numIntersection=0,this.init=function(d,h){const p=d.length!==0||h||i!==0||r;return r=h,i=d.length,p},this.beginShadows=function(){s=!0,u(null)},this.endShadows=function(){s=!1},this.setGlobalState=function(d,h){t=u(d,h,0)},this.setState=function(d,h,p){const g=d.clippingPlanes,_=d.clipIntersection,m=d.clipShadows,f=n.get(d);if(!r||g===null||g.length===0||s&&!m)s?u(null):c();else{const E=s?0:i,y=E*4;let M=f.clippingState||null;l.value=M,M=u(g,h,y,p);for(let C=0;C!==y;++C)M[C]=t[C];f.clippingState=M,this.numIntersection=_?this.numPlanes:0,this.numPlanes+=E}};function c(){l.value!==t&&(l.value=t,l.needsUpdate=i>0),e.numPlanes=i,e.numIntersection=0}function u(d,h,p,g){const _=d!==null?d.length:0;let m=null;if(_!==0){if(m=l.value,g!==!0||m===null){const f=p+_*4,E=h.matrixWorldInverse;o.getNormalMatrix(E),(m===null||m.length<f)&&(m=new Float32Array(f));for(let y=0,M=p;y!==_;++y,M+=4)a.copy(d[y]).applyMatrix4(E,o),a.normal.toArray(m,M),m[M+3]=a.constant}l.value=m,l.needsUpdate=!0}return e.numPlanes=_,e.numIntersection=0,m}}function dx(n){let e=new WeakMap;function t(a,o){return o===Bo?a.mapping=Wi:o===zo&&(a.mapping=$i),a}function i(a){if(a&&a.isTexture){const o=a.mapping;if(o===Bo||o===zo)if(e.has(a)){const l=e.get(a).texture;return t(l,a.mapping)}else{const l=a.image;if(l&&l.height>0){const c=new W_(l.height);return c.fromEquirectangularTexture(n,a),e.set(a,c),a.addEventListener("dispose",r),t(c.texture,a.mapping)}else return null}}return a}function r(a){const o=a.target;o.removeEventListener("dispose",r);const l=e.get(o);l!==void 0&&(e.delete(o),l.dispose())}function s(){e=new WeakMap}return{get:i,dispose:s}}const lr=4,Zd=[.125,.215,.35,.446,.526,.582],xi=20,Jl=new t0,Kd=new Xe;let Ql=null,ec=0,tc=0,nc=!1;const Si=(1+Math.sqrt(5))/2,cr=1/Si,Jd=[new O(-Si,cr,0),new O(Si,cr,0),new O(-cr,0,Si),new O(cr,0,Si),new O(0,Si,-cr),new O(0,Si,cr),new O(-1,1,-1),new O(1,1,-1),new O(-1,1,1),new O(1,1,1)],fx=new O;class Qd{constructor(e){this._renderer=e,this._pingPongRenderTarget=null,this._lodMax=0,this._cubeSize=0,this._lodPlanes=[],this._sizeLods=[],this._sigmas=[],this._blurMaterial=null,this._cubemapMaterial=null,this._equirectMaterial=null,this._compileMaterial(this._blurMaterial)}fromScene(e,t=0,i=.1,r=100,s={}){const{size:a=256,position:o=fx}=s;Ql=this._renderer.getRenderTarget(),ec=this._renderer.getActiveCubeFace(),tc=this._renderer.getActiveMipmapLevel(),nc=this._renderer.xr.enabled,this._renderer.xr.enabled=!1,this._setSize(a);const l=this._allocateTargets();return l.depthBuffer=!0,this._sceneToCubeUV(e,i,r,l,o),t>0&&this._blur(l,0,0,t),this._applyPMREM(l),this._cleanup(l),l}fromEquirectangular(e,t=null){return this._fromTexture(e,t)}fromCubemap(e,t=null){return this._fromTexture(e,t)}compileCubemapShader(){this._cubemapMaterial===null&&(this._cubemapMaterial=nf(),this._compileMaterial(this._cubemapMaterial))}compileEquirectangularShader(){this._equirectMaterial===null&&(this._equirectMaterial=tf(),this._compileMaterial(this._equirectMaterial))}dispose(){this._dispose(),this._cubemapMaterial!==null&&this._cubemapMaterial.dispose(),this._equirectMaterial!==null&&this._equirectMaterial.dispose()}_setSize(e){this._lodMax=Math.floor(Math.log2(e)),this._cubeSize=Math.pow(2,this._lodMax)}_dispose(){this._blurMaterial!==null&&this._blurMaterial.dispose(),this._pingPongRenderTarget!==null&&this._pingPongRenderTarget.dispose();for(let e=0;e<this._lodPlanes.length;e++)this._lodPlanes[e].dispose()}_cleanup(e){this._renderer.setRenderTarget(Ql,ec,tc),this._renderer.xr.enabled=nc,e.scissorTest=!1,ga(e,0,0,e.width,e.height)}_fromTexture(e,t){e.mapping===Wi||e.mapping===$i?this._setSize(e.image.length===0?16:e.image[0].width||e.image[0].image.width):this._setSize(e.image.width/4),Ql=this._renderer.getRenderTarget(),ec=this._renderer.getActiveCubeFace(),tc=this._renderer.getActiveMipmapLevel(),nc=this._renderer.xr.enabled,this._renderer.xr.enabled=!1;const i=t||this._allocateTargets();return this._textureToCubeUV(e,i),this._applyPMREM(i),this._cleanup(i),i}_allocateTargets(){const e=3*Math.max(this._cubeSize,112),t=4*this._cubeSize,i={magFilter:nn,minFilter:nn,generateMipmaps:!1,type:Dr,format:rn,colorSpace:hi,depthBuffer:!1},r=ef(e,t,i);if(this._pingPongRenderTarget===null||this._pingPongRenderTarget.width!==e||this._pingPongRenderTarget.height!==t){this._pingPongRenderTarget!==null&&this._dispose(),this._pingPongRenderTarget=ef(e,t,i);const{_lodMax:s}=this;({sizeLods:this._sizeLods,lodPlanes:this._lodPlanes,sigmas:this._sigmas}=px(s)),this._blurMaterial=mx(s,e,t)}return r}_compileMaterial(e){const t=new hn(this._lodPlanes[0],e);this._renderer.compile(t,Jl)}_sceneToCubeUV(e,t,i,r,s){const l=new jt(90,1,t,i),c=[1,-1,1,1,1,1],u=[1,1,1,-1,-1,-1],d=this._renderer,h=d.autoClear,p=d.toneMapping;d.getClearColor(Kd),d.toneMapping=zn,d.autoClear=!1,d.state.buffers.depth.getReversed()&&(d.setRenderTarget(r),d.clearDepth(),d.setRenderTarget(null));const _=new ir({name:"PMREM.Background",side:It,depthWrite:!1,depthTest:!1}),m=new hn(new Wr,_);let f=!1;const E=e.background;E?E.isColor&&(_.color.copy(E),e.background=null,f=!0):(_.color.copy(Kd),f=!0);for(let y=0;y<6;y++){const M=y%3;M===0?(l.up.set(0,c[y],0),l.position.set(s.x,s.y,s.z),l.lookAt(s.x+u[y],s.y,s.z)):M===1?(l.up.set(0,0,c[y]),l.position.set(s.x,s.y,s.z),l.lookAt(s.x,s.y+u[y],s.z)):(l.up.set(0,c[y],0),l.position.set(s.x,s.y,s.z),l.lookAt(s.x,s.y,s.z+u[y]));const C=this._cubeSize;ga(r,M*C,y>2?C:0,C,C),d.setRenderTarget(r),f&&d.render(m,l),d.render(e,l)}m.geometry.dispose(),m.material.dispose(),d.toneMapping=p,d.autoClear=h,e.background=E}_textureToCubeUV(e,t){const i=this._renderer,r=e.mapping===Wi||e.mapping===$i;r?(this._cubemapMaterial===null&&(this._cubemapMaterial=nf()),this._cubemapMaterial.uniforms.flipEnvMap.value=e.isRenderTargetTexture===!1?-1:1):this._equirectMaterial===null&&(this._equirectMaterial=tf());const s=r?this._cubemapMaterial:this._equirectMaterial,a=new hn(this._lodPlanes[0],s),o=s.uniforms;o.envMap.value=e;const l=this._cubeSize;ga(t,0,0,3*l,2*l),i.setRenderTarget(t),i.render(a,Jl)}_applyPMREM(e){const t=this._renderer,i=t.autoClear;t.autoClear=!1;const r=this._lodPlanes.length;for(let s=1;s<r;s++){const a=Math.sqrt(this._sigmas[s]*this._sigmas[s]-this._sigmas[s-1]*this._sigmas[s-1]),o=Jd[(r-s-1)%Jd.length];this._blur(e,s-1,s,a,o)}t.autoClear=i}_blur(e,t,i,r,s){const a=this._pingPongRenderTarget;this._halfBlur(e,a,t,i,r,"latitudinal",s),this._halfBlur(a,e,i,i,r,"longitudinal",s)}_halfBlur(e,t,i,r,s,a,o){const l=this._renderer,c=this._blurMaterial;a!=="latitudinal"&&a!=="longitudinal"&&console.error("blur direction must be either latitudinal or longitudinal!");const u=3,d=new hn(this._lodPlanes[r],c),h=c.uniforms,p=this._sizeLods[i]-1,g=isFinite(s)?Math.PI/(2*p):2*Math.PI/(2*xi-1),_=s/g,m=isFinite(s)?1+Math.floor(u*_):xi;m>xi&&console.warn(`sigmaRadians, ${s}, is too large and will clip, as it requested ${m} samples when the maximum is set to ${xi}`);const f=[];let E=0;for(let D=0;D<xi;++D){const F=D/_,w=Math.exp(-F*F/2);f.push(w),D===0?E+=w:D<m&&(E+=2*w)}for(let D=0;D<f.length;D++)f[D]=f[D]/E;h.envMap.value=e.texture,h.samples.value=m,h.weights.value=f,h.latitudinal.value=a==="latitudinal",o&&(h.poleAxis.value=o);const{_lodMax:y}=this;h.dTheta.value=g,h.mipInt.value=y-i;const M=this._sizeLods[r],C=3*M*(r>y-lr?r-y+lr:0),A=4*(this._cubeSize-M);ga(t,C,A,3*M,2*M),l.setRenderTarget(t),l.render(d,Jl)}}function px(n){const e=[],t=[],i=[];let r=n;const s=n-lr+1+Zd.length;for(let a=0;a<s;a++){const o=Math.pow(2,r);t.push(o);let l=1/o;a>n-lr?l=Zd[a-n+lr-1]:a===0&&(l=0),i.push(l);const c=1/(o-2),u=-c,d=1+c,h=[u,u,d,u,d,d,u,u,d,d,u,d],p=6,g=6,_=3,m=2,f=1,E=new Float32Array(_*g*p),y=new Float32Array(m*g*p),M=new Float32Array(f*g*p);for(let A=0;A<p;A++){const D=A%3*2/3-1,F=A>2?0:-1,w=[D,F,0,D+2/3,F,0,D+2/3,F+1,0,D,F,0,D+2/3,F+1,0,D,F+1,0];E.set(w,_*g*A),y.set(h,m*g*A);const b=[A,A,A,A,A,A];M.set(b,f*g*A)}const C=new cn;C.setAttribute("position",new yt(E,_)),C.setAttribute("uv",new yt(y,m)),C.setAttribute("faceIndex",new yt(M,f)),e.push(C),r>lr&&r--}return{lodPlanes:e,sizeLods:t,sigmas:i}}function ef(n,e,t){const i=new fi(n,e,t);return i.texture.mapping=Is,i.texture.name="PMREM.cubeUv",i.scissorTest=!0,i}function ga(n,e,t,i,r){n.viewport.set(e,t,i,r),n.scissor.set(e,t,i,r)}function mx(n,e,t){const i=new Float32Array(xi),r=new O(0,1,0);return new qn({name:"SphericalGaussianBlur",defines:{n:xi,CUBEUV_TEXEL_WIDTH:1/e,CUBEUV_TEXEL_HEIGHT:1/t,CUBEUV_MAX_MIP:`${n}.0`},uniforms:{envMap:{value:null},samples:{value:1},weights:{value:i},latitudinal:{value:!1},dTheta:{value:0},mipInt:{value:0},poleAxis:{value:r}},vertexShader:ic(),fragmentShader:`

			precision mediump float;
			precision mediump int;

			varying vec3 vOutputDirection;

			uniform sampler2D envMap;
			uniform int samples;
			uniform float weights[ n ];
			uniform bool latitudinal;
			uniform float dTheta;
			uniform float mipInt;
			uniform vec3 poleAxis;

			#define ENVMAP_TYPE_CUBE_UV
			#include <cube_uv_reflection_fragment>

			vec3 getSample( float theta, vec3 axis ) {

				float cosTheta = cos( theta );
				// Rodrigues' axis-angle rotation
				vec3 sampleDirection = vOutputDirection * cosTheta
					+ cross( axis, vOutputDirection ) * sin( theta )
					+ axis * dot( axis, vOutputDirection ) * ( 1.0 - cosTheta );

				return bilinearCubeUV( envMap, sampleDirection, mipInt );

			}

			void main() {

				vec3 axis = latitudinal ? poleAxis : cross( poleAxis, vOutputDirection );

				if ( all( equal( axis, vec3( 0.0 ) ) ) ) {

					axis = vec3( vOutputDirection.z, 0.0, - vOutputDirection.x );

				}

				axis = normalize( axis );

				gl_FragColor = vec4( 0.0, 0.0, 0.0, 1.0 );
				gl_FragColor.rgb += weights[ 0 ] * getSample( 0.0, axis );

				for ( int i = 1; i < n; i++ ) {

					if ( i >= samples ) {

						break;

					}

					float theta = dTheta * float( i );
					gl_FragColor.rgb += weights[ i ] * getSample( -1.0 * theta, axis );
					gl_FragColor.rgb += weights[ i ] * getSample( theta, axis );

				}

			}
		`,blending:Bn,depthTest:!1,depthWrite:!1})}function tf(){return new qn({name:"EquirectangularToCubeUV",uniforms:{envMap:{value:null}},vertexShader:ic(),fragmentShader:`

			precision mediump float;
			precision mediump int;

			varying vec3 vOutputDirection;

			uniform sampler2D envMap;

			#include <common>

			void main() {

				vec3 outputDirection = normalize( vOutputDirection );
				vec2 uv = equirectUv( outputDirection );

				gl_FragColor = vec4( texture2D ( envMap, uv ).rgb, 1.0 );

			}
		`,blending:Bn,depthTest:!1,depthWrite:!1})}function nf(){return new qn({name:"CubemapToCubeUV",uniforms:{envMap:{value:null},flipEnvMap:{value:-1}},vertexShader:ic(),fragmentShader:`

			precision mediump float;
			precision mediump int;

			uniform float flipEnvMap;

			varying vec3 vOutputDirection;

			uniform samplerCube envMap;

			void main() {

				gl_FragColor = textureCube( envMap, vec3( flipEnvMap * vOutputDirection.x, vOutputDirection.yz ) );

			}
		`,blending:Bn,depthTest:!1,depthWrite:!1})}function ic(){return`

		precision mediump float;
		precision mediump int;

		attribute float faceIndex;

		varying vec3 vOutputDirection;

		// RH coordinate system; PMREM face-indexing convention
		vec3 getDirection( vec2 uv, float face ) {

			uv = 2.0 * uv - 1.0;

			vec3 direction = vec3( uv, 1.0 );

			if ( face == 0.0 ) {

				direction = direction.zyx; // ( 1, v, u ) pos x

			} else if ( face == 1.0 ) {

				direction = direction.xzy;
				direction.xz *= -1.0; // ( -u, 1, -v ) pos y

			} else if ( face == 2.0 ) {

				direction.x *= -1.0; // ( -u, v, 1 ) pos z

			} else if ( face == 3.0 ) {

				direction = direction.zyx;
				direction.xz *= -1.0; // ( -1, v, -u ) neg x

			} else if ( face == 4.0 ) {

				direction = direction.xzy;
				direction.xy *= -1.0; // ( -u, -1, v ) neg y

			} else if ( face == 5.0 ) {

				direction.z *= -1.0; // ( u, v, -1 ) neg z

			}

			return direction;

		}

		void main() {

			vOutputDirection = getDirection( uv, faceIndex );
			gl_Position = vec4( position, 1.0 );

		}
	`}function gx(n){let e=new WeakMap,t=null;function i(o){if(o&&o.isTexture){const l=o.mapping,c=l===Bo||l===zo,u=l===Wi||l===$i;if(c||u){let d=e.get(o);const h=d!==void 0?d.texture.pmremVersion:0;if(o.isRenderTargetTexture&&o.pmremVersion!==h)return t===null&&(t=new Qd(n)),d=c?t.fromEquirectangular(o,d):t.fromCubemap(o,d),d.texture.pmremVersion=o.pmremVersion,e.set(o,d),d.texture;if(d!==void 0)return d.texture;{const p=o.image;return c&&p&&p.height>0||u&&p&&r(p)?(t===null&&(t=new Qd(n)),d=c?t.fromEquirectangular(o):t.fromCubemap(o),d.texture.pmremVersion=o.pmremVersion,e.set(o,d),o.addEventListener("dispose",s),d.texture):null}}}return o}function r(o){let l=0;const c=6;for(let u=0;u<c;u++)o[u]!==void 0&&l++;return l===c}function s(o){const l=o.target;l.removeEventListener("dispose",s);const c=e.get(l);c!==void 0&&(e.delete(l),c.dispose())}function a(){e=new WeakMap,t!==null&&(t.dispose(),t=null)}return{get:i,dispose:a}}function _x(n){const e={};function t(i){if(e[i]!==void 0)return e[i];let r;switch(i){case"WEBGL_depth_texture":r=n.getExtension("WEBGL_depth_texture")||n.getExtension("MOZ_WEBGL_depth_texture")||n.getExtension("WEBKIT_WEBGL_depth_texture");break;case"EXT_texture_filter_anisotropic":r=n.getExtension("EXT_texture_filter_anisotropic")||n.getExtension("MOZ_EXT_texture_filter_anisotropic")||n.getExtension("WEBKIT_EXT_texture_filter_anisotropic");break;case"WEBGL_compressed_texture_s3tc":r=n.getExtension("WEBGL_compressed_texture_s3tc")||n.getExtension("MOZ_WEBGL_compressed_texture_s3tc")||n.getExtension("WEBKIT_WEBGL_compressed_texture_s3tc");break;case"WEBGL_compressed_texture_pvrtc":r=n.getExtension("WEBGL_compressed_texture_pvrtc")||n.getExtension("WEBKIT_WEBGL_compressed_texture_pvrtc");break;default:r=n.getExtension(i)}return e[i]=r,r}return{has:function(i){return t(i)!==null},init:function(){t("EXT_color_buffer_float"),t("WEBGL_clip_cull_distance"),t("OES_texture_float_linear"),t("EXT_color_buffer_half_float"),t("WEBGL_multisampled_render_to_texture"),t("WEBGL_render_shared_exponent")},get:function(i){const r=t(i);return r===null&&Fr("THREE.WebGLRenderer: "+i+" extension not supported."),r}}}function vx(n,e,t,i){const r={},s=new WeakMap;function a(d){const h=d.target;h.index!==null&&e.remove(h.index);for(const g in h.attributes)e.remove(h.attributes[g]);h.removeEventListener("dispose",a),delete r[h.id];const p=s.get(h);p&&(e.remove(p),s.delete(h)),i.releaseStatesOfGeometry(h),h.isInstancedBufferGeometry===!0&&delete h._maxInstanceCount,t.memory.geometries--}function o(d,h){return r[h.id]===!0||(h.addEventListener("dispose",a),r[h.id]=!0,t.memory.geometries++),h}function l(d){const h=d.attributes;for(const p in h)e.update(h[p],n.ARRAY_BUFFER)}function c(d){const h=[],p=d.index,g=d.attributes.position;let _=0;if(p!==null){const E=p.array;_=p.version;for(let y=0,M=E.length;y<M;y+=3){const C=E[y+0],A=E[y+1],D=E[y+2];h.push(C,A,A,D,D,C)}}else if(g!==void 0){const E=g.array;_=g.version;for(let y=0,M=E.length/3-1;y<M;y+=3){const C=y+0,A=y+1,D=y+2;h.push(C,A,A,D,D,C)}}else return;const m=new(fd(h)?Rd:Ad)(h,1);m.version=_;const f=s.get(d);f&&e.remove(f),s.set(d,m)}function u(d){const h=s.get(d);if(h){const p=d.index;p!==null&&h.version<p.version&&c(d)}else c(d);return s.get(d)}return{get:o,update:l,getWireframeAttribute:u}}function xx(n,e,t){let i;function r(h){i=h}let s,a;function o(h){s=h.type,a=h.bytesPerElement}function l(h,p){n.drawElements(i,p,s,h*a),t.update(p,i,1)}function c(h,p,g){g!==0&&(n.drawElementsInstanced(i,p,s,h*a,g),t.update(p,i,g))}function u(h,p,g){if(g===0)return;e.get("WEBGL_multi_draw").multiDrawElementsWEBGL(i,p,0,s,h,0,g);let m=0;for(let f=0;f<g;f++)m+=p[f];t.update(m,i,1)}function d(h,p,g,_){if(g===0)return;const m=e.get("WEBGL_multi_draw");if(m===null)for(let f=0;f<h.length;f++)c(h[f]/a,p[f],_[f]);else{m.multiDrawElementsInstancedWEBGL(i,p,0,s,h,0,_,0,g);let f=0;for(let E=0;E<g;E++)f+=p[E]*_[E];t.update(f,i,1)}}this.setMode=r,this.setIndex=o,this.render=l,this.renderInstances=c,this.renderMultiDraw=u,this.renderMultiDrawInstances=d}function Sx(n){const e={geometries:0,textures:0},t={frame:0,calls:0,triangles:0,points:0,lines:0};function i(s,a,o){switch(t.calls++,a){case n.TRIANGLES:t.triangles+=o*(s/3);break;case n.LINES:t.lines+=o*(s/2);break;case n.LINE_STRIP:t.lines+=o*(s-1);break;case n.LINE_LOOP:t.lines+=o*s;break;case n.POINTS:t.points+=o*s;break;default:console.error("THREE.WebGLInfo: Unknown draw mode:",a);break}}function r(){t.calls=0,t.triangles=0,t.points=0,t.lines=0}return{memory:e,render:t,programs:null,autoReset:!0,reset:r,update:i}}function bx(n,e,t){const i=new WeakMap,r=new ut;function s(a,o,l){const c=a.morphTargetInfluences,u=o.morphAttributes.position||o.morphAttributes.normal||o.morphAttributes.color,d=u!==void 0?u.length:0;let h=i.get(o);if(h===void 0||h.count!==d){let w=function(){D.dispose(),i.delete(o),o.removeEventListener("dispose",w)};h!==void 0&&h.texture.dispose();const p=o.morphAttributes.position!==void 0,g=o.morphAttributes.normal!==void 0,_=o.morphAttributes.color!==void 0,m=o.morphAttributes.position||[],f=o.morphAttributes.normal||[],E=o.morphAttributes.color||[];let y=0;p===!0&&(y=1),g===!0&&(y=2),_===!0&&(y=3);let M=o.attributes.position.count*y,C=1;M>e.maxTextureSize&&(C=Math.ceil(M/e.maxTextureSize),M=e.maxTextureSize);const A=new Float32Array(M*C*4*d),D=new _d(A,M,C,d);D.type=wn,D.needsUpdate=!0;const F=y*4;for(let b=0;b<d;b++){const P=m[b],k=f[b],G=E[b],W=M*C*4*b;for(let Y=0;Y<P.count;Y++){const q=Y*F;p===!0&&(r.fromBufferAttribute(P,Y),A[W+q+0]=r.x,A[W+q+1]=r.y,A[W+q+2]=r.z,A[W+q+3]=0),g===!0&&(r.fromBufferAttribute(k,Y),A[W+q+4]=r.x,A[W+q+5]=r.y,A[W+q+6]=r.z,A[W+q+7]=0),_===!0&&(r.fromBufferAttribute(G,Y),A[W+q+8]=r.x,A[W+q+9]=r.y,A[W+q+10]=r.z,A[W+q+11]=G.itemSize===4?r.w:1)}}h={count:d,texture:D,size:new ke(M,C)},i.set(o,h),o.addEventListener("dispose",w)}if(a.isInstancedMesh===!0&&a.morphTexture!==null)l.getUniforms().setValue(n,"morphTexture",a.morphTexture,t);else{let p=0;for(let _=0;_<c.length;_++)p+=c[_];const g=o.morphTargetsRelative?1:1-p;l.getUniforms().setValue(n,"morphTargetBaseInfluence",g),l.getUniforms().setValue(n,"morphTargetInfluences",c)}l.getUniforms().setValue(n,"morphTargetsTexture",h.texture,t),l.getUniforms().setValue(n,"morphTargetsTextureSize",h.size)}return{update:s}}function Mx(n,e,t,i){let r=new WeakMap;function s(l){const c=i.render.frame,u=l.geometry,d=e.get(l,u);if(r.get(d)!==c&&(e.update(d),r.set(d,c)),l.isInstancedMesh&&(l.hasEventListener("dispose",o)===!1&&l.addEventListener("dispose",o),r.get(l)!==c&&(t.update(l.instanceMatrix,n.ARRAY_BUFFER),l.instanceColor!==null&&t.update(l.instanceColor,n.ARRAY_BUFFER),r.set(l,c))),l.isSkinnedMesh){const h=l.skeleton;r.get(h)!==c&&(h.update(),r.set(h,c))}return d}function a(){r=new WeakMap}function o(l){const c=l.target;c.removeEventListener("dispose",o),t.remove(c.instanceMatrix),c.instanceColor!==null&&t.remove(c.instanceColor)}return{update:s,dispose:a}}const rf=new Pt,sf=new Gd(1,1),af=new _d,of=new A_,lf=new kd,cf=[],hf=[],uf=new Float32Array(16),df=new Float32Array(9),ff=new Float32Array(4);function hr(n,e,t){const i=n[0];if(i<=0||i>0)return n;const r=e*t;let s=cf[r];if(s===void 0&&(s=new Float32Array(r),cf[r]=s),e!==0){i.toArray(s,0);for(let a=1,o=0;a!==e;++a)o+=t,n[a].toArray(s,o)}return s}function gt(n,e){if(n.length!==e.length)return!1;for(let t=0,i=n.length;t<i;t++)if(n[t]!==e[t])return!1;return!0}function _t(n,e){for(let t=0,i=e.length;t<i;t++)n[t]=e[t]}function _a(n,e){let t=hf[e];t===void 0&&(t=new Int32Array(e),hf[e]=t);for(let i=0;i!==e;++i)t[i]=n.allocateTextureUnit();return t}function wx(n,e){const t=this.cache;t[0]!==e&&(n.uniform1f(this.addr,e),t[0]=e)}function yx(n,e){const t=this.cache;if(e.x!==void 0)(t[0]!==e.x||t[1]!==e.y)&&(n.uniform2f(this.addr,e.x,e.y),t[0]=e.x,t[1]=e.y);else{if(gt(t,e))return;n.uniform2fv(this.addr,e),_t(t,e)}}function Ex(n,e){const t=this.cache;if(e.x!==void 0)(t[0]!==e.x||t[1]!==e.y||t[2]!==e.z)&&(n.uniform3f(this.addr,e.x,e.y,e.z),t[0]=e.x,t[1]=e.y,t[2]=e.z);else if(e.r!==void 0)(t[0]!==e.r||t[1]!==e.g||t[2]!==e.b)&&(n.uniform3f(this.addr,e.r,e.g,e.b),t[0]=e.r,t[1]=e.g,t[2]=e.b);else{if(gt(t,e))return;n.uniform3fv(this.addr,e),_t(t,e)}}function Tx(n,e){const t=this.cache;if(e.x!==void 0)(t[0]!==e.x||t[1]!==e.y||t[2]!==e.z||t[3]!==e.w)&&(n.uniform4f(this.addr,e.x,e.y,e.z,e.w),t[0]=e.x,t[1]=e.y,t[2]=e.z,t[3]=e.w);else{if(gt(t,e))return;n.uniform4fv(this.addr,e),_t(t,e)}}function Ax(n,e){const t=this.cache,i=e.elements;if(i===void 0){if(gt(t,e))return;n.uniformMatrix2fv(this.addr,!1,e),_t(t,e)}else{if(gt(t,i))return;ff.set(i),n.uniformMatrix2fv(this.addr,!1,ff),_t(t,i)}}function Rx(n,e){const t=this.cache,i=e.elements;if(i===void 0){if(gt(t,e))return;n.uniformMatrix3fv(this.addr,!1,e),_t(t,e)}else{if(gt(t,i))return;df.set(i),n.uniformMatrix3fv(this.addr,!1,df),_t(t,i)}}function Cx(n,e){const t=this.cache,i=e.elements;if(i===void 0){if(gt(t,e))return;n.uniformMatrix4fv(this.addr,!1,e),_t(t,e)}else{if(gt(t,i))return;uf.set(i),n.uniformMatrix4fv(this.addr,!1,uf),_t(t,i)}}function Px(n,e){const t=this.cache;t[0]!==e&&(n.uniform1i(this.addr,e),t[0]=e)}function Dx(n,e){const t=this.cache;if(e.x!==void 0)(t[0]!==e.x||t[1]!==e.y)&&(n.uniform2i(this.addr,e.x,e.y),t[0]=e.x,t[1]=e.y);else{if(gt(t,e))return;n.uniform2iv(this.addr,e),_t(t,e)}}function Lx(n,e){const t=this.cache;if(e.x!==void 0)(t[0]!==e.x||t[1]!==e.y||t[2]!==e.z)&&(n.uniform3i(this.addr,e.x,e.y,e.z),t[0]=e.x,t[1]=e.y,t[2]=e.z);else{if(gt(t,e))return;n.uniform3iv(this.addr,e),_t(t,e)}}function Nx(n,e){const t=this.cache;if(e.x!==void 0)(t[0]!==e.x||t[1]!==e.y||t[2]!==e.z||t[3]!==e.w)&&(n.uniform4i(this.addr,e.x,e.y,e.z,e.w),t[0]=e.x,t[1]=e.y,t[2]=e.z,t[3]=e.w);else{if(gt(t,e))return;n.uniform4iv(this.addr,e),_t(t,e)}}function Ux(n,e){const t=this.cache;t[0]!==e&&(n.uniform1ui(this.addr,e),t[0]=e)}function Ix(n,e){const t=this.cache;if(e.x!==void 0)(t[0]!==e.x||t[1]!==e.y)&&(n.uniform2ui(this.addr,e.x,e.y),t[0]=e.x,t[1]=e.y);else{if(gt(t,e))return;n.uniform2uiv(this.addr,e),_t(t,e)}}function kx(n,e){const t=this.cache;if(e.x!==void 0)(t[0]!==e.x||t[1]!==e.y||t[2]!==e.z)&&(n.uniform3ui(this.addr,e.x,e.y,e.z),t[0]=e.x,t[1]=e.y,t[2]=e.z);else{if(gt(t,e))return;n.uniform3uiv(this.addr,e),_t(t,e)}}function Fx(n,e){const t=this.cache;if(e.x!==void 0)(t[0]!==e.x||t[1]!==e.y||t[2]!==e.z||t[3]!==e.w)&&(n.uniform4ui(this.addr,e.x,e.y,e.z,e.w),t[0]=e.x,t[1]=e.y,t[2]=e.z,t[3]=e.w);else{if(gt(t,e))return;n.uniform4uiv(this.addr,e),_t(t,e)}}function Ox(n,e,t){const i=this.cache,r=t.allocateTextureUnit();i[0]!==r&&(n.uniform1i(this.addr,r),i[0]=r);let s;this.type===n.SAMPLER_2D_SHADOW?(sf.compareFunction=cd,s=sf):s=rf,t.setTexture2D(e||s,r)}function Bx(n,e,t){const i=this.cache,r=t.allocateTextureUnit();i[0]!==r&&(n.uniform1i(this.addr,r),i[0]=r),t.setTexture3D(e||of,r)}function zx(n,e,t){const i=this.cache,r=t.allocateTextureUnit();i[0]!==r&&(n.uniform1i(this.addr,r),i[0]=r),t.setTextureCube(e||lf,r)}function Hx(n,e,t){const i=this.cache,r=t.allocateTextureUnit();i[0]!==r&&(n.uniform1i(this.addr,r),i[0]=r),t.setTexture2DArray(e||af,r)}function Vx(n){switch(n){case 5126:return wx;case 35664:return yx;case 35665:return Ex;case 35666:return Tx;case 35674:return Ax;case 35675:return Rx;case 35676:return Cx;case 5124:case 35670:return Px;case 35667:case 35671:return Dx;case 35668:case 35672:return Lx;case 35669:case 35673:return Nx;case 5125:return Ux;case 36294:return Ix;case 36295:return kx;case 36296:return Fx;case 35678:case 36198:case 36298:case 36306:case 35682:return Ox;case 35679:case 36299:case 36307:return Bx;case 35680:case 36300:case 36308:case 36293:return zx;case 36289:case 36303:case 36311:case 36292:return Hx}}function Gx(n,e){n.uniform1fv(this.addr,e)}function Wx(n,e){const t=hr(e,this.size,2);n.uniform2fv(this.addr,t)}function $x(n,e){const t=hr(e,this.size,3);n.uniform3fv(this.addr,t)}function Xx(n,e){const t=hr(e,this.size,4);n.uniform4fv(this.addr,t)}function qx(n,e){const t=hr(e,this.size,4);n.uniformMatrix2fv(this.addr,!1,t)}function Yx(n,e){const t=hr(e,this.size,9);n.uniformMatrix3fv(this.addr,!1,t)}function jx(n,e){const t=hr(e,this.size,16);n.uniformMatrix4fv(this.addr,!1,t)}function Zx(n,e){n.uniform1iv(this.addr,e)}function Kx(n,e){n.uniform2iv(this.addr,e)}function Jx(n,e){n.uniform3iv(this.addr,e)}function Qx(n,e){n.uniform4iv(this.addr,e)}function eS(n,e){n.uniform1uiv(this.addr,e)}function tS(n,e){n.uniform2uiv(this.addr,e)}function nS(n,e){n.uniform3uiv(this.addr,e)}function iS(n,e){n.uniform4uiv(this.addr,e)}function rS(n,e,t){const i=this.cache,r=e.length,s=_a(t,r);gt(i,s)||(n.uniform1iv(this.addr,s),_t(i,s));for(let a=0;a!==r;++a)t.setTexture2D(e[a]||rf,s[a])}function sS(n,e,t){const i=this.cache,r=e.length,s=_a(t,r);gt(i,s)||(n.uniform1iv(this.addr,s),_t(i,s));for(let a=0;a!==r;++a)t.setTexture3D(e[a]||of,s[a])}function aS(n,e,t){const i=this.cache,r=e.length,s=_a(t,r);gt(i,s)||(n.uniform1iv(this.addr,s),_t(i,s));for(let a=0;a!==r;++a)t.setTextureCube(e[a]||lf,s[a])}function oS(n,e,t){const i=this.cache,r=e.length,s=_a(t,r);gt(i,s)||(n.uniform1iv(this.addr,s),_t(i,s));for(let a=0;a!==r;++a)t.setTexture2DArray(e[a]||af,s[a])}function lS(n){switch(n){case 5126:return Gx;case 35664:return Wx;case 35665:return $x;case 35666:return Xx;case 35674:return qx;case 35675:return Yx;case 35676:return jx;case 5124:case 35670:return Zx;case 35667:case 35671:return Kx;case 35668:case 35672:return Jx;case 35669:case 35673:return Qx;case 5125:return eS;case 36294:return tS;case 36295:return nS;case 36296:return iS;case 35678:case 36198:case 36298:case 36306:case 35682:return rS;case 35679:case 36299:case 36307:return sS;case 35680:case 36300:case 36308:case 36293:return aS;case 36289:case 36303:case 36311:case 36292:return oS}}class cS{constructor(e,t,i){this.id=e,this.addr=i,this.cache=[],this.type=t.type,this.setValue=Vx(t.type)}}class hS{constructor(e,t,i){this.id=e,this.addr=i,this.cache=[],this.type=t.type,this.size=t.size,this.setValue=lS(t.type)}}class uS{constructor(e){this.id=e,this.seq=[],this.map={}}setValue(e,t,i){const r=this.seq;for(let s=0,a=r.length;s!==a;++s){const o=r[s];o.setValue(e,t[o.id],i)}}}const rc=/(\w+)(\])?(\[|\.)?/g;function pf(n,e){n.seq.push(e),n.map[e.id]=e}function dS(n,e,t){const i=n.name,r=i.length;for(rc.lastIndex=0;;){const s=rc.exec(i),a=rc.lastIndex;let o=s[1];const l=s[2]==="]",c=s[3];if(l&&(o=o|0),c===void 0||c==="["&&a+2===r){pf(t,c===void 0?new cS(o,n,e):new hS(o,n,e));break}else{let d=t.map[o];d===void 0&&(d=new uS(o),pf(t,d)),t=d}}}class va{constructor(e,t){this.seq=[],this.map={};const i=e.getProgramParameter(t,e.ACTIVE_UNIFORMS);for(let r=0;r<i;++r){const s=e.getActiveUniform(t,r),a=e.getUniformLocation(t,s.name);dS(s,a,this)}}setValue(e,t,i,r){const s=this.map[t];s!==void 0&&s.setValue(e,i,r)}setOptional(e,t,i){const r=t[i];r!==void 0&&this.setValue(e,i,r)}static upload(e,t,i,r){for(let s=0,a=t.length;s!==a;++s){const o=t[s],l=i[o.id];l.needsUpdate!==!1&&o.setValue(e,l.value,r)}}static seqWithValue(e,t){const i=[];for(let r=0,s=e.length;r!==s;++r){const a=e[r];a.id in t&&i.push(a)}return i}}function mf(n,e,t){const i=n.createShader(e);return n.shaderSource(i,t),n.compileShader(i),i}const fS=37297;let pS=0;function mS(n,e){const t=n.split(`
`),i=[],r=Math.max(e-6,0),s=Math.min(e+6,t.length);for(let a=r;a<s;a++){const o=a+1;i.push(`${o===e?">":" "} ${o}: ${t[a]}`)}return i.join(`
`)}const gf=new Ue;function gS(n){Ge._getMatrix(gf,Ge.workingColorSpace,n);const e=`mat3( ${gf.elements.map(t=>t.toFixed(4))} )`;switch(Ge.getTransfer(n)){case Hs:return[e,"LinearTransferOETF"];case je:return[e,"sRGBTransferOETF"];default:return console.warn("THREE.WebGLProgram: Unsupported color space: ",n),[e,"LinearTransferOETF"]}}function _f(n,e,t){const i=n.getShaderParameter(e,n.COMPILE_STATUS),s=(n.getShaderInfoLog(e)||"").trim();if(i&&s==="")return"";const a=/ERROR: 0:(\d+)/.exec(s);if(a){const o=parseInt(a[1]);return t.toUpperCase()+`

`+s+`

`+mS(n.getShaderSource(e),o)}else return s}function _S(n,e){const t=gS(e);return[`vec4 ${n}( vec4 value ) {`,`	return ${t[1]}( vec4( value.rgb * ${t[0]}, value.a ) );`,"}"].join(`
`)}function vS(n,e){let t;switch(e){case Qg:t="Linear";break;case e_:t="Reinhard";break;case t_:t="Cineon";break;case n_:t="ACESFilmic";break;case r_:t="AgX";break;case s_:t="Neutral";break;case i_:t="Custom";break;default:console.warn("THREE.WebGLProgram: Unsupported toneMapping:",e),t="Linear"}return"vec3 "+n+"( vec3 color ) { return "+t+"ToneMapping( color ); }"}const xa=new O;function xS(){Ge.getLuminanceCoefficients(xa);const n=xa.x.toFixed(4),e=xa.y.toFixed(4),t=xa.z.toFixed(4);return["float luminance( const in vec3 rgb ) {",`	const vec3 weights = vec3( ${n}, ${e}, ${t} );`,"	return dot( weights, rgb );","}"].join(`
`)}function SS(n){return[n.extensionClipCullDistance?"#extension GL_ANGLE_clip_cull_distance : require":"",n.extensionMultiDraw?"#extension GL_ANGLE_multi_draw : require":""].filter(qr).join(`
`)}function bS(n){const e=[];for(const t in n){const i=n[t];i!==!1&&e.push("#define "+t+" "+i)}return e.join(`
`)}function MS(n,e){const t={},i=n.getProgramParameter(e,n.ACTIVE_ATTRIBUTES);for(let r=0;r<i;r++){const s=n.getActiveAttrib(e,r),a=s.name;let o=1;s.type===n.FLOAT_MAT2&&(o=2),s.type===n.FLOAT_MAT3&&(o=3),s.type===n.FLOAT_MAT4&&(o=4),t[a]={type:s.type,location:n.getAttribLocation(e,a),locationSize:o}}return t}function qr(n){return n!==""}function vf(n,e){const t=e.numSpotLightShadows+e.numSpotLightMaps-e.numSpotLightShadowsWithMaps;return n.replace(/NUM_DIR_LIGHTS/g,e.numDirLights).replace(/NUM_SPOT_LIGHTS/g,e.numSpotLights).replace(/NUM_SPOT_LIGHT_MAPS/g,e.numSpotLightMaps).replace(/NUM_SPOT_LIGHT_COORDS/g,t).replace(/NUM_RECT_AREA_LIGHTS/g,e.numRectAreaLights).replace(/NUM_POINT_LIGHTS/g,e.numPointLights).replace(/NUM_HEMI_LIGHTS/g,e.numHemiLights).replace(/NUM_DIR_LIGHT_SHADOWS/g,e.numDirLightShadows).replace(/NUM_SPOT_LIGHT_SHADOWS_WITH_MAPS/g,e.numSpotLightShadowsWithMaps).replace(/NUM_SPOT_LIGHT_SHADOWS/g,e.numSpotLightShadows).replace(/NUM_POINT_LIGHT_SHADOWS/g,e.numPointLightShadows)}function xf(n,e){return n.replace(/NUM_CLIPPING_PLANES/g,e.numClippingPlanes).replace(/UNION_CLIPPING_PLANES/g,e.numClippingPlanes-e.numClipIntersection)}const wS=/^[ \t]*#include +<([\w\d./]+)>/gm;function sc(n){return n.replace(wS,ES)}const yS=new Map;function ES(n,e){let t=Fe[e];if(t===void 0){const i=yS.get(e);if(i!==void 0)t=Fe[i],console.warn('THREE.WebGLRenderer: Shader chunk "%s" has been deprecated. Use "%s" instead.',e,i);else throw new Error("Can not resolve #include <"+e+">")}return sc(t)}const TS=/#pragma unroll_loop_start\s+for\s*\(\s*int\s+i\s*=\s*(\d+)\s*;\s*i\s*<\s*(\d+)\s*;\s*i\s*\+\+\s*\)\s*{([\s\S]+?)}\s+#pragma unroll_loop_end/g;function Sf(n){return n.replace(TS,AS)}function AS(n,e,t,i){let r="";for(let s=parseInt(e);s<parseInt(t);s++)r+=i.replace(/\[\s*i\s*\]/g,"[ "+s+" ]").replace(/UNROLLED_LOOP_INDEX/g,s);return r}function bf(n){let e=`precision ${n.precision} float;
	precision ${n.precision} int;
	precision ${n.precision} sampler2D;
	precision ${n.precision} samplerCube;
	precision ${n.precision} sampler3D;
	precision ${n.precision} sampler2DArray;
	precision ${n.precision} sampler2DShadow;
	precision ${n.precision} samplerCubeShadow;
	precision ${n.precision} sampler2DArrayShadow;
	precision ${n.precision} isampler2D;
	precision ${n.precision} isampler3D;
	precision ${n.precision} isamplerCube;
	precision ${n.precision} isampler2DArray;
	precision ${n.precision} usampler2D;
	precision ${n.precision} usampler3D;
	precision ${n.precision} usamplerCube;
	precision ${n.precision} usampler2DArray;
	`;return n.precision==="highp"?e+=`
#define HIGH_PRECISION`:n.precision==="mediump"?e+=`
#define MEDIUM_PRECISION`:n.precision==="lowp"&&(e+=`
#define LOW_PRECISION`),e}function RS(n){let e="SHADOWMAP_TYPE_BASIC";return n.shadowMapType===Yu?e="SHADOWMAP_TYPE_PCF":n.shadowMapType===Lg?e="SHADOWMAP_TYPE_PCF_SOFT":n.shadowMapType===bn&&(e="SHADOWMAP_TYPE_VSM"),e}function CS(n){let e="ENVMAP_TYPE_CUBE";if(n.envMap)switch(n.envMapMode){case Wi:case $i:e="ENVMAP_TYPE_CUBE";break;case Is:e="ENVMAP_TYPE_CUBE_UV";break}return e}function PS(n){let e="ENVMAP_MODE_REFLECTION";if(n.envMap)switch(n.envMapMode){case $i:e="ENVMAP_MODE_REFRACTION";break}return e}function DS(n){let e="ENVMAP_BLENDING_NONE";if(n.envMap)switch(n.combine){case Ju:e="ENVMAP_BLENDING_MULTIPLY";break;case Kg:e="ENVMAP_BLENDING_MIX";break;case Jg:e="ENVMAP_BLENDING_ADD";break}return e}function LS(n){const e=n.envMapCubeUVHeight;if(e===null)return null;const t=Math.log2(e)-2,i=1/e;return{texelWidth:1/(3*Math.max(Math.pow(2,t),112)),texelHeight:i,maxMip:t}}function NS(n,e,t,i){const r=n.getContext(),s=t.defines;let a=t.vertexShader,o=t.fragmentShader;const l=RS(t),c=CS(t),u=PS(t),d=DS(t),h=LS(t),p=SS(t),g=bS(s),_=r.createProgram();let m,f,E=t.glslVersion?"#version "+t.glslVersion+`
`:"";t.isRawShaderMaterial?(m=["#define SHADER_TYPE "+t.shaderType,"#define SHADER_NAME "+t.shaderName,g].filter(qr).join(`
`),m.length>0&&(m+=`
`),f=["#define SHADER_TYPE "+t.shaderType,"#define SHADER_NAME "+t.shaderName,g].filter(qr).join(`
`),f.length>0&&(f+=`
`)):(m=[bf(t),"#define SHADER_TYPE "+t.shaderType,"#define SHADER_NAME "+t.shaderName,g,t.extensionClipCullDistance?"#define USE_CLIP_DISTANCE":"",t.batching?"#define USE_BATCHING":"",t.batchingColor?"#define USE_BATCHING_COLOR":"",t.instancing?"#define USE_INSTANCING":"",t.instancingColor?"#define USE_INSTANCING_COLOR":"",t.instancingMorph?"#define USE_INSTANCING_MORPH":"",t.useFog&&t.fog?"#define USE_FOG":"",t.useFog&&t.fogExp2?"#define FOG_EXP2":"",t.map?"#define USE_MAP":"",t.envMap?"#define USE_ENVMAP":"",t.envMap?"#define "+u:"",t.lightMap?"#define USE_LIGHTMAP":"",t.aoMap?"#define USE_AOMAP":"",t.bumpMap?"#define USE_BUMPMAP":"",t.normalMap?"#define USE_NORMALMAP":"",t.normalMapObjectSpace?"#define USE_NORMALMAP_OBJECTSPACE":"",t.normalMapTangentSpace?"#define USE_NORMALMAP_TANGENTSPACE":"",t.displacementMap?"#define USE_DISPLACEMENTMAP":"",t.emissiveMap?"#define USE_EMISSIVEMAP":"",t.anisotropy?"#define USE_ANISOTROPY":"",t.anisotropyMap?"#define USE_ANISOTROPYMAP":"",t.clearcoatMap?"#define USE_CLEARCOATMAP":"",t.clearcoatRoughnessMap?"#define USE_CLEARCOAT_ROUGHNESSMAP":"",t.clearcoatNormalMap?"#define USE_CLEARCOAT_NORMALMAP":"",t.iridescenceMap?"#define USE_IRIDESCENCEMAP":"",t.iridescenceThicknessMap?"#define USE_IRIDESCENCE_THICKNESSMAP":"",t.specularMap?"#define USE_SPECULARMAP":"",t.specularColorMap?"#define USE_SPECULAR_COLORMAP":"",t.specularIntensityMap?"#define USE_SPECULAR_INTENSITYMAP":"",t.roughnessMap?"#define USE_ROUGHNESSMAP":"",t.metalnessMap?"#define USE_METALNESSMAP":"",t.alphaMap?"#define USE_ALPHAMAP":"",t.alphaHash?"#define USE_ALPHAHASH":"",t.transmission?"#define USE_TRANSMISSION":"",t.transmissionMap?"#define USE_TRANSMISSIONMAP":"",t.thicknessMap?"#define USE_THICKNESSMAP":"",t.sheenColorMap?"#define USE_SHEEN_COLORMAP":"",t.sheenRoughnessMap?"#define USE_SHEEN_ROUGHNESSMAP":"",t.mapUv?"#define MAP_UV "+t.mapUv:"",t.alphaMapUv?"#define ALPHAMAP_UV "+t.alphaMapUv:"",t.lightMapUv?"#define LIGHTMAP_UV "+t.lightMapUv:"",t.aoMapUv?"#define AOMAP_UV "+t.aoMapUv:"",t.emissiveMapUv?"#define EMISSIVEMAP_UV "+t.emissiveMapUv:"",t.bumpMapUv?"#define BUMPMAP_UV "+t.bumpMapUv:"",t.normalMapUv?"#define NORMALMAP_UV "+t.normalMapUv:"",t.displacementMapUv?"#define DISPLACEMENTMAP_UV "+t.displacementMapUv:"",t.metalnessMapUv?"#define METALNESSMAP_UV "+t.metalnessMapUv:"",t.roughnessMapUv?"#define ROUGHNESSMAP_UV "+t.roughnessMapUv:"",t.anisotropyMapUv?"#define ANISOTROPYMAP_UV "+t.anisotropyMapUv:"",t.clearcoatMapUv?"#define CLEARCOATMAP_UV "+t.clearcoatMapUv:"",t.clearcoatNormalMapUv?"#define CLEARCOAT_NORMALMAP_UV "+t.clearcoatNormalMapUv:"",t.clearcoatRoughnessMapUv?"#define CLEARCOAT_ROUGHNESSMAP_UV "+t.clearcoatRoughnessMapUv:"",t.iridescenceMapUv?"#define IRIDESCENCEMAP_UV "+t.iridescenceMapUv:"",t.iridescenceThicknessMapUv?"#define IRIDESCENCE_THICKNESSMAP_UV "+t.iridescenceThicknessMapUv:"",t.sheenColorMapUv?"#define SHEEN_COLORMAP_UV "+t.sheenColorMapUv:"",t.sheenRoughnessMapUv?"#define SHEEN_ROUGHNESSMAP_UV "+t.sheenRoughnessMapUv:"",t.specularMapUv?"#define SPECULARMAP_UV "+t.specularMapUv:"",t.specularColorMapUv?"#define SPECULAR_COLORMAP_UV "+t.specularColorMapUv:"",t.specularIntensityMapUv?"#define SPECULAR_INTENSITYMAP_UV "+t.specularIntensityMapUv:"",t.transmissionMapUv?"#define TRANSMISSIONMAP_UV "+t.transmissionMapUv:"",t.thicknessMapUv?"#define THICKNESSMAP_UV "+t.thicknessMapUv:"",t.vertexTangents&&t.flatShading===!1?"#define USE_TANGENT":"",t.vertexColors?"#define USE_COLOR":"",t.vertexAlphas?"#define USE_COLOR_ALPHA":"",t.vertexUv1s?"#define USE_UV1":"",t.vertexUv2s?"#define USE_UV2":"",t.vertexUv3s?"#define USE_UV3":"",t.pointsUvs?"#define USE_POINTS_UV":"",t.flatShading?"#define FLAT_SHADED":"",t.skinning?"#define USE_SKINNING":"",t.morphTargets?"#define USE_MORPHTARGETS":"",t.morphNormals&&t.flatShading===!1?"#define USE_MORPHNORMALS":"",t.morphColors?"#define USE_MORPHCOLORS":"",t.morphTargetsCount>0?"#define MORPHTARGETS_TEXTURE_STRIDE "+t.morphTextureStride:"",t.morphTargetsCount>0?"#define MORPHTARGETS_COUNT "+t.morphTargetsCount:"",t.doubleSided?"#define DOUBLE_SIDED":"",t.flipSided?"#define FLIP_SIDED":"",t.shadowMapEnabled?"#define USE_SHADOWMAP":"",t.shadowMapEnabled?"#define "+l:"",t.sizeAttenuation?"#define USE_SIZEATTENUATION":"",t.numLightProbes>0?"#define USE_LIGHT_PROBES":"",t.logarithmicDepthBuffer?"#define USE_LOGARITHMIC_DEPTH_BUFFER":"",t.reversedDepthBuffer?"#define USE_REVERSED_DEPTH_BUFFER":"","uniform mat4 modelMatrix;","uniform mat4 modelViewMatrix;","uniform mat4 projectionMatrix;","uniform mat4 viewMatrix;","uniform mat3 normalMatrix;","uniform vec3 cameraPosition;","uniform bool isOrthographic;","#ifdef USE_INSTANCING","	attribute mat4 instanceMatrix;","#endif","#ifdef USE_INSTANCING_COLOR","	attribute vec3 instanceColor;","#endif","#ifdef USE_INSTANCING_MORPH","	uniform sampler2D morphTexture;","#endif","attribute vec3 position;","attribute vec3 normal;","attribute vec2 uv;","#ifdef USE_UV1","	attribute vec2 uv1;","#endif","#ifdef USE_UV2","	attribute vec2 uv2;","#endif","#ifdef USE_UV3","	attribute vec2 uv3;","#endif","#ifdef USE_TANGENT","	attribute vec4 tangent;","#endif","#if defined( USE_COLOR_ALPHA )","	attribute vec4 color;","#elif defined( USE_COLOR )","	attribute vec3 color;","#endif","#ifdef USE_SKINNING","	attribute vec4 skinIndex;","	attribute vec4 skinWeight;","#endif",`
`].filter(qr).join(`
`),f=[bf(t),"#define SHADER_TYPE "+t.shaderType,"#define SHADER_NAME "+t.shaderName,g,t.useFog&&t.fog?"#define USE_FOG":"",t.useFog&&t.fogExp2?"#define FOG_EXP2":"",t.alphaToCoverage?"#define ALPHA_TO_COVERAGE":"",t.map?"#define USE_MAP":"",t.matcap?"#define USE_MATCAP":"",t.envMap?"#define USE_ENVMAP":"",t.envMap?"#define "+c:"",t.envMap?"#define "+u:"",t.envMap?"#define "+d:"",h?"#define CUBEUV_TEXEL_WIDTH "+h.texelWidth:"",h?"#define CUBEUV_TEXEL_HEIGHT "+h.texelHeight:"",h?"#define CUBEUV_MAX_MIP "+h.maxMip+".0":"",t.lightMap?"#define USE_LIGHTMAP":"",t.aoMap?"#define USE_AOMAP":"",t.bumpMap?"#define USE_BUMPMAP":"",t.normalMap?"#define USE_NORMALMAP":"",t.normalMapObjectSpace?"#define USE_NORMALMAP_OBJECTSPACE":"",t.normalMapTangentSpace?"#define USE_NORMALMAP_TANGENTSPACE":"",t.emissiveMap?"#define USE_EMISSIVEMAP":"",t.anisotropy?"#define USE_ANISOTROPY":"",t.anisotropyMap?"#define USE_ANISOTROPYMAP":"",t.clearcoat?"#define USE_CLEARCOAT":"",t.clearcoatMap?"#define USE_CLEARCOATMAP":"",t.clearcoatRoughnessMap?"#define USE_CLEARCOAT_ROUGHNESSMAP":"",t.clearcoatNormalMap?"#define USE_CLEARCOAT_NORMALMAP":"",t.dispersion?"#define USE_DISPERSION":"",t.iridescence?"#define USE_IRIDESCENCE":"",t.iridescenceMap?"#define USE_IRIDESCENCEMAP":"",t.iridescenceThicknessMap?"#define USE_IRIDESCENCE_THICKNESSMAP":"",t.specularMap?"#define USE_SPECULARMAP":"",t.specularColorMap?"#define USE_SPECULAR_COLORMAP":"",t.specularIntensityMap?"#define USE_SPECULAR_INTENSITYMAP":"",t.roughnessMap?"#define USE_ROUGHNESSMAP":"",t.metalnessMap?"#define USE_METALNESSMAP":"",t.alphaMap?"#define USE_ALPHAMAP":"",t.alphaTest?"#define USE_ALPHATEST":"",t.alphaHash?"#define USE_ALPHAHASH":"",t.sheen?"#define USE_SHEEN":"",t.sheenColorMap?"#define USE_SHEEN_COLORMAP":"",t.sheenRoughnessMap?"#define USE_SHEEN_ROUGHNESSMAP":"",t.transmission?"#define USE_TRANSMISSION":"",t.transmissionMap?"#define USE_TRANSMISSIONMAP":"",t.thicknessMap?"#define USE_THICKNESSMAP":"",t.vertexTangents&&t.flatShading===!1?"#define USE_TANGENT":"",t.vertexColors||t.instancingColor||t.batchingColor?"#define USE_COLOR":"",t.vertexAlphas?"#define USE_COLOR_ALPHA":"",t.vertexUv1s?"#define USE_UV1":"",t.vertexUv2s?"#define USE_UV2":"",t.vertexUv3s?"#define USE_UV3":"",t.pointsUvs?"#define USE_POINTS_UV":"",t.gradientMap?"#define USE_GRADIENTMAP":"",t.flatShading?"#define FLAT_SHADED":"",t.doubleSided?"#define DOUBLE_SIDED":"",t.flipSided?"#define FLIP_SIDED":"",t.shadowMapEnabled?"#define USE_SHADOWMAP":"",t.shadowMapEnabled?"#define "+l:"",t.premultipliedAlpha?"#define PREMULTIPLIED_ALPHA":"",t.numLightProbes>0?"#define USE_LIGHT_PROBES":"",t.decodeVideoTexture?"#define DECODE_VIDEO_TEXTURE":"",t.decodeVideoTextureEmissive?"#define DECODE_VIDEO_TEXTURE_EMISSIVE":"",t.logarithmicDepthBuffer?"#define USE_LOGARITHMIC_DEPTH_BUFFER":"",t.reversedDepthBuffer?"#define USE_REVERSED_DEPTH_BUFFER":"","uniform mat4 viewMatrix;","uniform vec3 cameraPosition;","uniform bool isOrthographic;",t.toneMapping!==zn?"#define TONE_MAPPING":"",t.toneMapping!==zn?Fe.tonemapping_pars_fragment:"",t.toneMapping!==zn?vS("toneMapping",t.toneMapping):"",t.dithering?"#define DITHERING":"",t.opaque?"#define OPAQUE":"",Fe.colorspace_pars_fragment,_S("linearToOutputTexel",t.outputColorSpace),xS(),t.useDepthPacking?"#define DEPTH_PACKING "+t.depthPacking:"",`
`].filter(qr).join(`
`)),a=sc(a),a=vf(a,t),a=xf(a,t),o=sc(o),o=vf(o,t),o=xf(o,t),a=Sf(a),o=Sf(o),t.isRawShaderMaterial!==!0&&(E=`#version 300 es
`,m=[p,"#define attribute in","#define varying out","#define texture2D texture"].join(`
`)+`
`+m,f=["#define varying in",t.glslVersion===ud?"":"layout(location = 0) out highp vec4 pc_fragColor;",t.glslVersion===ud?"":"#define gl_FragColor pc_fragColor","#define gl_FragDepthEXT gl_FragDepth","#define texture2D texture","#define textureCube texture","#define texture2DProj textureProj","#define texture2DLodEXT textureLod","#define texture2DProjLodEXT textureProjLod","#define textureCubeLodEXT textureLod","#define texture2DGradEXT textureGrad","#define texture2DProjGradEXT textureProjGrad","#define textureCubeGradEXT textureGrad"].join(`
`)+`
`+f);const y=E+m+a,M=E+f+o,C=mf(r,r.VERTEX_SHADER,y),A=mf(r,r.FRAGMENT_SHADER,M);r.attachShader(_,C),r.attachShader(_,A),t.index0AttributeName!==void 0?r.bindAttribLocation(_,0,t.index0AttributeName):t.morphTargets===!0&&r.bindAttribLocation(_,0,"position"),r.linkProgram(_);function D(P){if(n.debug.checkShaderErrors){const k=r.getProgramInfoLog(_)||"",G=r.getShaderInfoLog(C)||"",W=r.getShaderInfoLog(A)||"",Y=k.trim(),q=G.trim(),te=W.trim();let V=!0,se=!0;if(r.getProgramParameter(_,r.LINK_STATUS)===!1)if(V=!1,typeof n.debug.onShaderError=="function")n.debug.onShaderError(r,_,C,A);else{const oe=_f(r,C,"vertex"),ye=_f(r,A,"fragment");console.error("THREE.WebGLProgram: Shader Error "+r.getError()+" - VALIDATE_STATUS "+r.getProgramParameter(_,r.VALIDATE_STATUS)+`

Material Name: `+P.name+`
Material Type: `+P.type+`

Program Info Log: `+Y+`
`+oe+`
`+ye)}else Y!==""?console.warn("THREE.WebGLProgram: Program Info Log:",Y):(q===""||te==="")&&(se=!1);se&&(P.diagnostics={runnable:V,programLog:Y,vertexShader:{log:q,prefix:m},fragmentShader:{log:te,prefix:f}})}r.deleteShader(C),r.deleteShader(A),F=new va(r,_),w=MS(r,_)}let F;this.getUniforms=function(){return F===void 0&&D(this),F};let w;this.getAttributes=function(){return w===void 0&&D(this),w};let b=t.rendererExtensionParallelShaderCompile===!1;return this.isReady=function(){return b===!1&&(b=r.getProgramParameter(_,fS)),b},this.destroy=function(){i.releaseStatesOfProgram(this),r.deleteProgram(_),this.program=void 0},this.type=t.shaderType,this.name=t.shaderName,this.id=pS++,this.cacheKey=e,this.usedTimes=1,this.program=_,this.vertexShader=C,this.fragmentShader=A,this}let US=0;class IS{constructor(){this.shaderCache=new Map,this.materialCache=new Map}update(e){const t=e.vertexShader,i=e.fragmentShader,r=this._getShaderStage(t),s=this._getShaderStage(i),a=this._getShaderCacheForMaterial(e);return a.has(r)===!1&&(a.add(r),r.usedTimes++),a.has(s)===!1&&(a.add(s),s.usedTimes++),this}remove(e){const t=this.materialCache.get(e);for(const i of t)i.usedTimes--,i.usedTimes===0&&this.shaderCache.delete(i.code);return this.materialCache.delete(e),this}getVertexShaderID(e){return this._getShaderStage(e.vertexShader).id}getFragmentShaderID(e){return this._getShaderStage(e.fragmentShader).id}dispose(){this.shaderCache.clear(),this.materialCache.clear()}_getShaderCacheForMaterial(e){const t=this.materialCache;let i=t.get(e);return i===void 0&&(i=new Set,t.set(e,i)),i}_getShaderStage(e){const t=this.shaderCache;let i=t.get(e);return i===void 0&&(i=new kS(e),t.set(e,i)),i}}class kS{constructor(e){this.id=US++,this.code=e,this.usedTimes=0}}function FS(n,e,t,i,r,s,a){const o=new kl,l=new IS,c=new Set,u=[],d=r.logarithmicDepthBuffer,h=r.vertexTextures;let p=r.precision;const g={MeshDepthMaterial:"depth",MeshDistanceMaterial:"distanceRGBA",MeshNormalMaterial:"normal",MeshBasicMaterial:"basic",MeshLambertMaterial:"lambert",MeshPhongMaterial:"phong",MeshToonMaterial:"toon",MeshStandardMaterial:"physical",MeshPhysicalMaterial:"physical",MeshMatcapMaterial:"matcap",LineBasicMaterial:"basic",LineDashedMaterial:"dashed",PointsMaterial:"points",ShadowMaterial:"shadow",SpriteMaterial:"sprite"};function _(w){return c.add(w),w===0?"uv":`uv${w}`}function m(w,b,P,k,G){const W=k.fog,Y=G.geometry,q=w.isMeshStandardMaterial?k.environment:null,te=(w.isMeshStandardMaterial?t:e).get(w.envMap||q),V=te&&te.mapping===Is?te.image.height:null,se=g[w.type];w.precision!==null&&(p=r.getMaxPrecision(w.precision),p!==w.precision&&console.warn("THREE.WebGLProgram.getParameters:",w.precision,"not supported, using",p,"instead."));const oe=Y.morphAttributes.position||Y.morphAttributes.normal||Y.morphAttributes.color,ye=oe!==void 0?oe.length:0;let ze=0;Y.morphAttributes.position!==void 0&&(ze=1),Y.morphAttributes.normal!==void 0&&(ze=2),Y.morphAttributes.color!==void 0&&(ze=3);let Qe,st,qe,j;if(se){const Ye=mn[se];Qe=Ye.vertexShader,st=Ye.fragmentShader}else Qe=w.vertexShader,st=w.fragmentShader,l.update(w),qe=l.getVertexShaderID(w),j=l.getFragmentShaderID(w);const J=n.getRenderTarget(),pe=n.state.buffers.depth.getReversed(),De=G.isInstancedMesh===!0,we=G.isBatchedMesh===!0,Ve=!!w.map,Ct=!!w.matcap,R=!!te,at=!!w.aoMap,Ne=!!w.lightMap,Ce=!!w.bumpMap,_e=!!w.normalMap,ot=!!w.displacementMap,ve=!!w.emissiveMap,Oe=!!w.metalnessMap,Mt=!!w.roughnessMap,ft=w.anisotropy>0,T=w.clearcoat>0,v=w.dispersion>0,B=w.iridescence>0,X=w.sheen>0,K=w.transmission>0,$=ft&&!!w.anisotropyMap,Me=T&&!!w.clearcoatMap,re=T&&!!w.clearcoatNormalMap,xe=T&&!!w.clearcoatRoughnessMap,Se=B&&!!w.iridescenceMap,ne=B&&!!w.iridescenceThicknessMap,ue=X&&!!w.sheenColorMap,Re=X&&!!w.sheenRoughnessMap,be=!!w.specularMap,ce=!!w.specularColorMap,Ie=!!w.specularIntensityMap,L=K&&!!w.transmissionMap,ie=K&&!!w.thicknessMap,ae=!!w.gradientMap,fe=!!w.alphaMap,Q=w.alphaTest>0,Z=!!w.alphaHash,ge=!!w.extensions;let Le=zn;w.toneMapped&&(J===null||J.isXRRenderTarget===!0)&&(Le=n.toneMapping);const et={shaderID:se,shaderType:w.type,shaderName:w.name,vertexShader:Qe,fragmentShader:st,defines:w.defines,customVertexShaderID:qe,customFragmentShaderID:j,isRawShaderMaterial:w.isRawShaderMaterial===!0,glslVersion:w.glslVersion,precision:p,batching:we,batchingColor:we&&G._colorsTexture!==null,instancing:De,instancingColor:De&&G.instanceColor!==null,instancingMorph:De&&G.morphTexture!==null,supportsVertexTextures:h,outputColorSpace:J===null?n.outputColorSpace:J.isXRRenderTarget===!0?J.texture.colorSpace:hi,alphaToCoverage:!!w.alphaToCoverage,map:Ve,matcap:Ct,envMap:R,envMapMode:R&&te.mapping,envMapCubeUVHeight:V,aoMap:at,lightMap:Ne,bumpMap:Ce,normalMap:_e,displacementMap:h&&ot,emissiveMap:ve,normalMapObjectSpace:_e&&w.normalMapType===h_,normalMapTangentSpace:_e&&w.normalMapType===c_,metalnessMap:Oe,roughnessMap:Mt,anisotropy:ft,anisotropyMap:$,clearcoat:T,clearcoatMap:Me,clearcoatNormalMap:re,clearcoatRoughnessMap:xe,dispersion:v,iridescence:B,iridescenceMap:Se,iridescenceThicknessMap:ne,sheen:X,sheenColorMap:ue,sheenRoughnessMap:Re,specularMap:be,specularColorMap:ce,specularIntensityMap:Ie,transmission:K,transmissionMap:L,thicknessMap:ie,gradientMap:ae,opaque:w.transparent===!1&&w.blending===Vi&&w.alphaToCoverage===!1,alphaMap:fe,alphaTest:Q,alphaHash:Z,combine:w.combine,mapUv:Ve&&_(w.map.channel),aoMapUv:at&&_(w.aoMap.channel),lightMapUv:Ne&&_(w.lightMap.channel),bumpMapUv:Ce&&_(w.bumpMap.channel),normalMapUv:_e&&_(w.normalMap.channel),displacementMapUv:ot&&_(w.displacementMap.channel),emissiveMapUv:ve&&_(w.emissiveMap.channel),metalnessMapUv:Oe&&_(w.metalnessMap.channel),roughnessMapUv:Mt&&_(w.roughnessMap.channel),anisotropyMapUv:$&&_(w.anisotropyMap.channel),clearcoatMapUv:Me&&_(w.clearcoatMap.channel),clearcoatNormalMapUv:re&&_(w.clearcoatNormalMap.channel),clearcoatRoughnessMapUv:xe&&_(w.clearcoatRoughnessMap.channel),iridescenceMapUv:Se&&_(w.iridescenceMap.channel),iridescenceThicknessMapUv:ne&&_(w.iridescenceThicknessMap.channel),sheenColorMapUv:ue&&_(w.sheenColorMap.channel),sheenRoughnessMapUv:Re&&_(w.sheenRoughnessMap.channel),specularMapUv:be&&_(w.specularMap.channel),specularColorMapUv:ce&&_(w.specularColorMap.channel),specularIntensityMapUv:Ie&&_(w.specularIntensityMap.channel),transmissionMapUv:L&&_(w.transmissionMap.channel),thicknessMapUv:ie&&_(w.thicknessMap.channel),alphaMapUv:fe&&_(w.alphaMap.channel),vertexTangents:!!Y.attributes.tangent&&(_e||ft),vertexColors:w.vertexColors,vertexAlphas:w.vertexColors===!0&&!!Y.attributes.color&&Y.attributes.color.itemSize===4,pointsUvs:G.isPoints===!0&&!!Y.attributes.uv&&(Ve||fe),fog:!!W,useFog:w.fog===!0,fogExp2:!!W&&W.isFogExp2,flatShading:w.flatShading===!0&&w.wireframe===!1,sizeAttenuation:w.sizeAttenuation===!0,logarithmicDepthBuffer:d,reversedDepthBuffer:pe,skinning:G.isSkinnedMesh===!0,morphTargets:Y.morphAttributes.position!==void 0,morphNormals:Y.morphAttributes.normal!==void 0,morphColors:Y.morphAttributes.color!==void 0,morphTargetsCount:ye,morphTextureStride:ze,numDirLights:b.directional.length,numPointLights:b.point.length,numSpotLights:b.spot.length,numSpotLightMaps:b.spotLightMap.length,numRectAreaLights:b.rectArea.length,numHemiLights:b.hemi.length,numDirLightShadows:b.directionalShadowMap.length,numPointLightShadows:b.pointShadowMap.length,numSpotLightShadows:b.spotShadowMap.length,numSpotLightShadowsWithMaps:b.numSpotLightShadowsWithMaps,numLightProbes:b.numLightProbes,numClippingPlanes:a.numPlanes,numClipIntersection:a.numIntersection,dithering:w.dithering,shadowMapEnabled:n.shadowMap.enabled&&P.length>0,shadowMapType:n.shadowMap.type,toneMapping:Le,decodeVideoTexture:Ve&&w.map.isVideoTexture===!0&&Ge.getTransfer(w.map.colorSpace)===je,decodeVideoTextureEmissive:ve&&w.emissiveMap.isVideoTexture===!0&&Ge.getTransfer(w.emissiveMap.colorSpace)===je,premultipliedAlpha:w.premultipliedAlpha,doubleSided:w.side===Ht,flipSided:w.side===It,useDepthPacking:w.depthPacking>=0,depthPacking:w.depthPacking||0,index0AttributeName:w.index0AttributeName,extensionClipCullDistance:ge&&w.extensions.clipCullDistance===!0&&i.has("WEBGL_clip_cull_distance"),extensionMultiDraw:(ge&&w.extensions.multiDraw===!0||we)&&i.has("WEBGL_multi_draw"),rendererExtensionParallelShaderCompile:i.has("KHR_parallel_shader_compile"),customProgramCacheKey:w.customProgramCacheKey()};return et.vertexUv1s=c.has(1),et.vertexUv2s=c.has(2),et.vertexUv3s=c.has(3),c.clear(),et}function f(w){const b=[];if(w.shaderID?b.push(w.shaderID):(b.push(w.customVertexShaderID),b.push(w.customFragmentShaderID)),w.defines!==void 0)for(const P in w.defines)b.push(P),b.push(w.defines[P]);return w.isRawShaderMaterial===!1&&(E(b,w),y(b,w),b.push(n.outputColorSpace)),b.push(w.customProgramCacheKey),b.join()}function E(w,b){w.push(b.precision),w.push(b.outputColorSpace),w.push(b.envMapMode),w.push(b.envMapCubeUVHeight),w.push(b.mapUv),w.push(b.alphaMapUv),w.push(b.lightMapUv),w.push(b.aoMapUv),w.push(b.bumpMapUv),w.push(b.normalMapUv),w.push(b.displacementMapUv),w.push(b.emissiveMapUv),w.push(b.metalnessMapUv),w.push(b.roughnessMapUv),w.push(b.anisotropyMapUv),w.push(b.clearcoatMapUv),w.push(b.clearcoatNormalMapUv),w.push(b.clearcoatRoughnessMapUv),w.push(b.iridescenceMapUv),w.push(b.iridescenceThicknessMapUv),w.push(b.sheenColorMapUv),w.push(b.sheenRoughnessMapUv),w.push(b.specularMapUv),w.push(b.specularColorMapUv),w.push(b.specularIntensityMapUv),w.push(b.transmissionMapUv),w.push(b.thicknessMapUv),w.push(b.combine),w.push(b.fogExp2),w.push(b.sizeAttenuation),w.push(b.morphTargetsCount),w.push(b.morphAttributeCount),w.push(b.numDirLights),w.push(b.numPointLights),w.push(b.numSpotLights),w.push(b.numSpotLightMaps),w.push(b.numHemiLights),w.push(b.numRectAreaLights),w.push(b.numDirLightShadows),w.push(b.numPointLightShadows),w.push(b.numSpotLightShadows),w.push(b.numSpotLightShadowsWithMaps),w.push(b.numLightProbes),w.push(b.shadowMapType),w.push(b.toneMapping),w.push(b.numClippingPlanes),w.push(b.numClipIntersection),w.push(b.depthPacking)}function y(w,b){o.disableAll(),b.supportsVertexTextures&&o.enable(0),b.instancing&&o.enable(1),b.instancingColor&&o.enable(2),b.instancingMorph&&o.enable(3),b.matcap&&o.enable(4),b.envMap&&o.enable(5),b.normalMapObjectSpace&&o.enable(6),b.normalMapTangentSpace&&o.enable(7),b.clearcoat&&o.enable(8),b.iridescence&&o.enable(9),b.alphaTest&&o.enable(10),b.vertexColors&&o.enable(11),b.vertexAlphas&&o.enable(12),b.vertexUv1s&&o.enable(13),b.vertexUv2s&&o.enable(14),b.vertexUv3s&&o.enable(15),b.vertexTangents&&o.enable(16),b.anisotropy&&o.enable(17),b.alphaHash&&o.enable(18),b.batching&&o.enable(19),b.dispersion&&o.enable(20),b.batchingColor&&o.enable(21),b.gradientMap&&o.enable(22),w.push(o.mask),o.disableAll(),b.fog&&o.enable(0),b.useFog&&o.enable(1),b.flatShading&&o.enable(2),b.logarithmicDepthBuffer&&o.enable(3),b.reversedDepthBuffer&&o.enable(4),b.skinning&&o.enable(5),b.morphTargets&&o.enable(6),b.morphNormals&&o.enable(7),b.morphColors&&o.enable(8),b.premultipliedAlpha&&o.enable(9),b.shadowMapEnabled&&o.enable(10),b.doubleSided&&o.enable(11),b.flipSided&&o.enable(12),b.useDepthPacking&&o.enable(13),b.dithering&&o.enable(14),b.transmission&&o.enable(15),b.sheen&&o.enable(16),b.opaque&&o.enable(17),b.pointsUvs&&o.enable(18),b.decodeVideoTexture&&o.enable(19),b.decodeVideoTextureEmissive&&o.enable(20),b.alphaToCoverage&&o.enable(21),w.push(o.mask)}function M(w){const b=g[w.type];let P;if(b){const k=mn[b];P=z_.clone(k.uniforms)}else P=w.uniforms;return P}function C(w,b){let P;for(let k=0,G=u.length;k<G;k++){const W=u[k];if(W.cacheKey===b){P=W,++P.usedTimes;break}}return P===void 0&&(P=new NS(n,b,w,s),u.push(P)),P}function A(w){if(--w.usedTimes===0){const b=u.indexOf(w);u[b]=u[u.length-1],u.pop(),w.destroy()}}function D(w){l.remove(w)}function F(){l.dispose()}return{getParameters:m,getProgramCacheKey:f,getUniforms:M,acquireProgram:C,releaseProgram:A,releaseShaderCache:D,programs:u,dispose:F}}function OS(){let n=new WeakMap;function e(a){return n.has(a)}function t(a){let o=n.get(a);return o===void 0&&(o={},n.set(a,o)),o}function i(a){n.delete(a)}function r(a,o,l){n.get(a)[o]=l}function s(){n=new WeakMap}return{has:e,get:t,remove:i,update:r,dispose:s}}function BS(n,e){return n.groupOrder!==e.groupOrder?n.groupOrder-e.groupOrder:n.renderOrder!==e.renderOrder?n.renderOrder-e.renderOrder:n.material.id!==e.material.id?n.material.id-e.material.id:n.z!==e.z?n.z-e.z:n.id-e.id}function Mf(n,e){return n.groupOrder!==e.groupOrder?n.groupOrder-e.groupOrder:n.renderOrder!==e.renderOrder?n.renderOrder-e.renderOrder:n.z!==e.z?e.z-n.z:n.id-e.id}function wf(){const n=[];let e=0;const t=[],i=[],r=[];function s(){e=0,t.length=0,i.length=0,r.length=0}function a(d,h,p,g,_,m){let f=n[e];return f===void 0?(f={id:d.id,object:d,geometry:h,material:p,groupOrder:g,renderOrder:d.renderOrder,z:_,group:m},n[e]=f):(f.id=d.id,f.object=d,f.geometry=h,f.material=p,f.groupOrder=g,f.renderOrder=d.renderOrder,f.z=_,f.group=m),e++,f}function o(d,h,p,g,_,m){const f=a(d,h,p,g,_,m);p.transmission>0?i.push(f):p.transparent===!0?r.push(f):t.push(f)}function l(d,h,p,g,_,m){const f=a(d,h,p,g,_,m);p.transmission>0?i.unshift(f):p.transparent===!0?r.unshift(f):t.unshift(f)}function c(d,h){t.length>1&&t.sort(d||BS),i.length>1&&i.sort(h||Mf),r.length>1&&r.sort(h||Mf)}function u(){for(let d=e,h=n.length;d<h;d++){const p=n[d];if(p.id===null)break;p.id=null,p.object=null,p.geometry=null,p.material=null,p.group=null}}return{opaque:t,transmissive:i,transparent:r,init:s,push:o,unshift:l,finish:u,sort:c}}function zS(){let n=new WeakMap;function e(i,r){const s=n.get(i);let a;return s===void 0?(a=new wf,n.set(i,[a])):r>=s.length?(a=new wf,s.push(a)):a=s[r],a}function t(){n=new WeakMap}return{get:e,dispose:t}}function HS(){const n={};return{get:function(e){if(n[e.id]!==void 0)return n[e.id];let t;switch(e.type){case"DirectionalLight":t={direction:new O,color:new Xe};break;case"SpotLight":t={position:new O,direction:new O,color:new Xe,distance:0,coneCos:0,penumbraCos:0,decay:0};break;case"PointLight":t={position:new O,color:new Xe,distance:0,decay:0};break;case"HemisphereLight":t={direction:new O,skyColor:new Xe,groundColor:new Xe};break;case"RectAreaLight":t={color:new Xe,position:new O,halfWidth:new O,halfHeight:new O};break}return n[e.id]=t,t}}}function VS(){const n={};return{get:function(e){if(n[e.id]!==void 0)return n[e.id];let t;switch(e.type){case"DirectionalLight":t={shadowIntensity:1,shadowBias:0,shadowNormalBias:0,shadowRadius:1,shadowMapSize:new ke};break;case"SpotLight":t={shadowIntensity:1,shadowBias:0,shadowNormalBias:0,shadowRadius:1,shadowMapSize:new ke};break;case"PointLight":t={shadowIntensity:1,shadowBias:0,shadowNormalBias:0,shadowRadius:1,shadowMapSize:new ke,shadowCameraNear:1,shadowCameraFar:1e3};break}return n[e.id]=t,t}}}let GS=0;function WS(n,e){return(e.castShadow?2:0)-(n.castShadow?2:0)+(e.map?1:0)-(n.map?1:0)}function $S(n){const e=new HS,t=VS(),i={version:0,hash:{directionalLength:-1,pointLength:-1,spotLength:-1,rectAreaLength:-1,hemiLength:-1,numDirectionalShadows:-1,numPointShadows:-1,numSpotShadows:-1,numSpotMaps:-1,numLightProbes:-1},ambient:[0,0,0],probe:[],directional:[],directionalShadow:[],directionalShadowMap:[],directionalShadowMatrix:[],spot:[],spotLightMap:[],spotShadow:[],spotShadowMap:[],spotLightMatrix:[],rectArea:[],rectAreaLTC1:null,rectAreaLTC2:null,point:[],pointShadow:[],pointShadowMap:[],pointShadowMatrix:[],hemi:[],numSpotLightShadowsWithMaps:0,numLightProbes:0};for(let c=0;c<9;c++)i.probe.push(new O);const r=new O,s=new dt,a=new dt;function o(c){let u=0,d=0,h=0;for(let w=0;w<9;w++)i.probe[w].set(0,0,0);let p=0,g=0,_=0,m=0,f=0,E=0,y=0,M=0,C=0,A=0,D=0;c.sort(WS);for(let w=0,b=c.length;w<b;w++){const P=c[w],k=P.color,G=P.intensity,W=P.distance,Y=P.shadow&&P.shadow.map?P.shadow.map.texture:null;if(P.isAmbientLight)u+=k.r*G,d+=k.g*G,h+=k.b*G;else if(P.isLightProbe){for(let q=0;q<9;q++)i.probe[q].addScaledVector(P.sh.coefficients[q],G);D++}else if(P.isDirectionalLight){const q=e.get(P);if(q.color.copy(P.color).multiplyScalar(P.intensity),P.castShadow){const te=P.shadow,V=t.get(P);V.shadowIntensity=te.intensity,V.shadowBias=te.bias,V.shadowNormalBias=te.normalBias,V.shadowRadius=te.radius,V.shadowMapSize=te.mapSize,i.directionalShadow[p]=V,i.directionalShadowMap[p]=Y,i.directionalShadowMatrix[p]=P.shadow.matrix,E++}i.directional[p]=q,p++}else if(P.isSpotLight){const q=e.get(P);q.position.setFromMatrixPosition(P.matrixWorld),q.color.copy(k).multiplyScalar(G),q.distance=W,q.coneCos=Math.cos(P.angle),q.penumbraCos=Math.cos(P.angle*(1-P.penumbra)),q.decay=P.decay,i.spot[_]=q;const te=P.shadow;if(P.map&&(i.spotLightMap[C]=P.map,C++,te.updateMatrices(P),P.castShadow&&A++),i.spotLightMatrix[_]=te.matrix,P.castShadow){const V=t.get(P);V.shadowIntensity=te.intensity,V.shadowBias=te.bias,V.shadowNormalBias=te.normalBias,V.shadowRadius=te.radius,V.shadowMapSize=te.mapSize,i.spotShadow[_]=V,i.spotShadowMap[_]=Y,M++}_++}else if(P.isRectAreaLight){const q=e.get(P);q.color.copy(k).multiplyScalar(G),q.halfWidth.set(P.width*.5,0,0),q.halfHeight.set(0,P.height*.5,0),i.rectArea[m]=q,m++}else if(P.isPointLight){const q=e.get(P);if(q.color.copy(P.color).multiplyScalar(P.intensity),q.distance=P.distance,q.decay=P.decay,P.castShadow){const te=P.shadow,V=t.get(P);V.shadowIntensity=te.intensity,V.shadowBias=te.bias,V.shadowNormalBias=te.normalBias,V.shadowRadius=te.radius,V.shadowMapSize=te.mapSize,V.shadowCameraNear=te.camera.near,V.shadowCameraFar=te.camera.far,i.pointShadow[g]=V,i.pointShadowMap[g]=Y,i.pointShadowMatrix[g]=P.shadow.matrix,y++}i.point[g]=q,g++}else if(P.isHemisphereLight){const q=e.get(P);q.skyColor.copy(P.color).multiplyScalar(G),q.groundColor.copy(P.groundColor).multiplyScalar(G),i.hemi[f]=q,f++}}m>0&&(n.has("OES_texture_float_linear")===!0?(i.rectAreaLTC1=le.LTC_FLOAT_1,i.rectAreaLTC2=le.LTC_FLOAT_2):(i.rectAreaLTC1=le.LTC_HALF_1,i.rectAreaLTC2=le.LTC_HALF_2)),i.ambient[0]=u,i.ambient[1]=d,i.ambient[2]=h;const F=i.hash;(F.directionalLength!==p||F.pointLength!==g||F.spotLength!==_||F.rectAreaLength!==m||F.hemiLength!==f||F.numDirectionalShadows!==E||F.numPointShadows!==y||F.numSpotShadows!==M||F.numSpotMaps!==C||F.numLightProbes!==D)&&(i.directional.length=p,i.spot.length=_,i.rectArea.length=m,i.point.length=g,i.hemi.length=f,i.directionalShadow.length=E,i.directionalShadowMap.length=E,i.pointShadow.length=y,i.pointShadowMap.length=y,i.spotShadow.length=M,i.spotShadowMap.length=M,i.directionalShadowMatrix.length=E,i.pointShadowMatrix.length=y,i.spotLightMatrix.length=M+C-A,i.spotLightMap.length=C,i.numSpotLightShadowsWithMaps=A,i.numLightProbes=D,F.directionalLength=p,F.pointLength=g,F.spotLength=_,F.rectAreaLength=m,F.hemiLength=f,F.numDirectionalShadows=E,F.numPointShadows=y,F.numSpotShadows=M,F.numSpotMaps=C,F.numLightProbes=D,i.version=GS++)}function l(c,u){let d=0,h=0,p=0,g=0,_=0;const m=u.matrixWorldInverse;for(let f=0,E=c.length;f<E;f++){const y=c[f];if(y.isDirectionalLight){const M=i.directional[d];M.direction.setFromMatrixPosition(y.matrixWorld),r.setFromMatrixPosition(y.target.matrixWorld),M.direction.sub(r),M.direction.transformDirection(m),d++}else if(y.isSpotLight){const M=i.spot[p];M.position.setFromMatrixPosition(y.matrixWorld),M.position.applyMatrix4(m),M.direction.setFromMatrixPosition(y.matrixWorld),r.setFromMatrixPosition(y.target.matrixWorld),M.direction.sub(r),M.direction.transformDirection(m),p++}else if(y.isRectAreaLight){const M=i.rectArea[g];M.position.setFromMatrixPosition(y.matrixWorld),M.position.applyMatrix4(m),a.identity(),s.copy(y.matrixWorld),s.premultiply(m),a.extractRotation(s),M.halfWidth.set(y.width*.5,0,0),M.halfHeight.set(0,y.height*.5,0),M.halfWidth.applyMatrix4(a),M.halfHeight.applyMatrix4(a),g++}else if(y.isPointLight){const M=i.point[h];M.position.setFromMatrixPosition(y.matrixWorld),M.position.applyMatrix4(m),h++}else if(y.isHemisphereLight){const M=i.hemi[_];M.direction.setFromMatrixPosition(y.matrixWorld),M.direction.transformDirection(m),_++}}}return{setup:o,setupView:l,state:i}}function yf(n){const e=new $S(n),t=[],i=[];function r(u){c.camera=u,t.length=0,i.length=0}function s(u){t.push(u)}function a(u){i.push(u)}function o(){e.setup(t)}function l(u){e.setupView(t,u)}const c={lightsArray:t,shadowsArray:i,camera:null,lights:e,transmissionRenderTarget:{}};return{init:r,state:c,setupLights:o,setupLightsView:l,pushLight:s,pushShadow:a}}function XS(n){let e=new WeakMap;function t(r,s=0){const a=e.get(r);let o;return a===void 0?(o=new yf(n),e.set(r,[o])):s>=a.length?(o=new yf(n),a.push(o)):o=a[s],o}function i(){e=new WeakMap}return{get:t,dispose:i}}const qS=`void main() {
	gl_Position = vec4( position, 1.0 );
}`,YS=`uniform sampler2D shadow_pass;
uniform vec2 resolution;
uniform float radius;
#include <packing>
void main() {
	const float samples = float( VSM_SAMPLES );
	float mean = 0.0;
	float squared_mean = 0.0;
	float uvStride = samples <= 1.0 ? 0.0 : 2.0 / ( samples - 1.0 );
	float uvStart = samples <= 1.0 ? 0.0 : - 1.0;
	for ( float i = 0.0; i < samples; i ++ ) {
		float uvOffset = uvStart + i * uvStride;
		#ifdef HORIZONTAL_PASS
			vec2 distribution = unpackRGBATo2Half( texture2D( shadow_pass, ( gl_FragCoord.xy + vec2( uvOffset, 0.0 ) * radius ) / resolution ) );
			mean += distribution.x;
			squared_mean += distribution.y * distribution.y + distribution.x * distribution.x;
		#else
			float depth = unpackRGBAToDepth( texture2D( shadow_pass, ( gl_FragCoord.xy + vec2( 0.0, uvOffset ) * radius ) / resolution ) );
			mean += depth;
			squared_mean += depth * depth;
		#endif
	}
	mean = mean / samples;
	squared_mean = squared_mean / samples;
	float std_dev = sqrt( squared_mean - mean * mean );
	gl_FragColor = pack2HalfToRGBA( vec2( mean, std_dev ) );
}`;function jS(n,e,t){let i=new Fd;const r=new ke,s=new ke,a=new ut,o=new Q_({depthPacking:l_}),l=new e0,c={},u=t.maxTextureSize,d={[On]:It,[It]:On,[Ht]:Ht},h=new qn({defines:{VSM_SAMPLES:8},uniforms:{shadow_pass:{value:null},resolution:{value:new ke},radius:{value:4}},vertexShader:qS,fragmentShader:YS}),p=h.clone();p.defines.HORIZONTAL_PASS=1;const g=new cn;g.setAttribute("position",new yt(new Float32Array([-1,-1,.5,3,-1,.5,-1,3,.5]),3));const _=new hn(g,h),m=this;this.enabled=!1,this.autoUpdate=!0,this.needsUpdate=!1,this.type=Yu;let f=this.type;this.render=function(A,D,F){if(m.enabled===!1||m.autoUpdate===!1&&m.needsUpdate===!1||A.length===0)return;const w=n.getRenderTarget(),b=n.getActiveCubeFace(),P=n.getActiveMipmapLevel(),k=n.state;k.setBlending(Bn),k.buffers.depth.getReversed()===!0?k.buffers.color.setClear(0,0,0,0):k.buffers.color.setClear(1,1,1,1),k.buffers.depth.setTest(!0),k.setScissorTest(!1);const G=f!==bn&&this.type===bn,W=f===bn&&this.type!==bn;for(let Y=0,q=A.length;Y<q;Y++){const te=A[Y],V=te.shadow;if(V===void 0){console.warn("THREE.WebGLShadowMap:",te,"has no shadow.");continue}if(V.autoUpdate===!1&&V.needsUpdate===!1)continue;r.copy(V.mapSize);const se=V.getFrameExtents();if(r.multiply(se),s.copy(V.mapSize),(r.x>u||r.y>u)&&(r.x>u&&(s.x=Math.floor(u/se.x),r.x=s.x*se.x,V.mapSize.x=s.x),r.y>u&&(s.y=Math.floor(u/se.y),r.y=s.y*se.y,V.mapSize.y=s.y)),V.map===null||G===!0||W===!0){const ye=this.type!==bn?{minFilter:tn,magFilter:tn}:{};V.map!==null&&V.map.dispose(),V.map=new fi(r.x,r.y,ye),V.map.texture.name=te.name+".shadowMap",V.camera.updateProjectionMatrix()}n.setRenderTarget(V.map),n.clear();const oe=V.getViewportCount();for(let ye=0;ye<oe;ye++){const ze=V.getViewport(ye);a.set(s.x*ze.x,s.y*ze.y,s.x*ze.z,s.y*ze.w),k.viewport(a),V.updateMatrices(te,ye),i=V.getFrustum(),M(D,F,V.camera,te,this.type)}V.isPointLightShadow!==!0&&this.type===bn&&E(V,F),V.needsUpdate=!1}f=this.type,m.needsUpdate=!1,n.setRenderTarget(w,b,P)};function E(A,D){const F=e.update(_);h.defines.VSM_SAMPLES!==A.blurSamples&&(h.defines.VSM_SAMPLES=A.blurSamples,p.defines.VSM_SAMPLES=A.blurSamples,h.needsUpdate=!0,p.needsUpdate=!0),A.mapPass===null&&(A.mapPass=new fi(r.x,r.y)),h.uniforms.shadow_pass.value=A.map.texture,h.uniforms.resolution.value=A.mapSize,h.uniforms.radius.value=A.radius,n.setRenderTarget(A.mapPass),n.clear(),n.renderBufferDirect(D,null,F,h,_,null),p.uniforms.shadow_pass.value=A.mapPass.texture,p.uniforms.resolution.value=A.mapSize,p.uniforms.radius.value=A.radius,n.setRenderTarget(A.map),n.clear(),n.renderBufferDirect(D,null,F,p,_,null)}function y(A,D,F,w){let b=null;const P=F.isPointLight===!0?A.customDistanceMaterial:A.customDepthMaterial;if(P!==void 0)b=P;else if(b=F.isPointLight===!0?l:o,n.localClippingEnabled&&D.clipShadows===!0&&Array.isArray(D.clippingPlanes)&&D.clippingPlanes.length!==0||D.displacementMap&&D.displacementScale!==0||D.alphaMap&&D.alphaTest>0||D.map&&D.alphaTest>0||D.alphaToCoverage===!0){const k=b.uuid,G=D.uuid;let W=c[k];W===void 0&&(W={},c[k]=W);let Y=W[G];Y===void 0&&(Y=b.clone(),W[G]=Y,D.addEventListener("dispose",C)),b=Y}if(b.visible=D.visible,b.wireframe=D.wireframe,w===bn?b.side=D.shadowSide!==null?D.shadowSide:D.side:b.side=D.shadowSide!==null?D.shadowSide:d[D.side],b.alphaMap=D.alphaMap,b.alphaTest=D.alphaToCoverage===!0?.5:D.alphaTest,b.map=D.map,b.clipShadows=D.clipShadows,b.clippingPlanes=D.clippingPlanes,b.clipIntersection=D.clipIntersection,b.displacementMap=D.displacementMap,b.displacementScale=D.displacementScale,b.displacementBias=D.displacementBias,b.wireframeLinewidth=D.wireframeLinewidth,b.linewidth=D.linewidth,F.isPointLight===!0&&b.isMeshDistanceMaterial===!0){const k=n.properties.get(b);k.light=F}return b}function M(A,D,F,w,b){if(A.visible===!1)return;if(A.layers.test(D.layers)&&(A.isMesh||A.isLine||A.isPoints)&&(A.castShadow||A.receiveShadow&&b===bn)&&(!A.frustumCulled||i.intersectsObject(A))){A.modelViewMatrix.multiplyMatrices(F.matrixWorldInverse,A.matrixWorld);const G=e.update(A),W=A.material;if(Array.isArray(W)){const Y=G.groups;for(let q=0,te=Y.length;q<te;q++){const V=Y[q],se=W[V.materialIndex];if(se&&se.visible){const oe=y(A,se,w,b);A.onBeforeShadow(n,A,D,F,G,oe,V),n.renderBufferDirect(F,null,G,oe,A,V),A.onAfterShadow(n,A,D,F,G,oe,V)}}}else if(W.visible){const Y=y(A,W,w,b);A.onBeforeShadow(n,A,D,F,G,Y,null),n.renderBufferDirect(F,null,G,Y,A,null),A.onAfterShadow(n,A,D,F,G,Y,null)}}const k=A.children;for(let G=0,W=k.length;G<W;G++)M(k[G],D,F,w,b)}function C(A){A.target.removeEventListener("dispose",C);for(const F in c){const w=c[F],b=A.target.uuid;b in w&&(w[b].dispose(),delete w[b])}}}const ZS={[Lo]:No,[Uo]:Fo,[Io]:Oo,[Gi]:ko,[No]:Lo,[Fo]:Uo,[Oo]:Io,[ko]:Gi};function KS(n,e){function t(){let L=!1;const ie=new ut;let ae=null;const fe=new ut(0,0,0,0);return{setMask:function(Q){ae!==Q&&!L&&(n.colorMask(Q,Q,Q,Q),ae=Q)},setLocked:function(Q){L=Q},setClear:function(Q,Z,ge,Le,et){et===!0&&(Q*=Le,Z*=Le,ge*=Le),ie.set(Q,Z,ge,Le),fe.equals(ie)===!1&&(n.clearColor(Q,Z,ge,Le),fe.copy(ie))},reset:function(){L=!1,ae=null,fe.set(-1,0,0,0)}}}function i(){let L=!1,ie=!1,ae=null,fe=null,Q=null;return{setReversed:function(Z){if(ie!==Z){const ge=e.get("EXT_clip_control");Z?ge.clipControlEXT(ge.LOWER_LEFT_EXT,ge.ZERO_TO_ONE_EXT):ge.clipControlEXT(ge.LOWER_LEFT_EXT,ge.NEGATIVE_ONE_TO_ONE_EXT),ie=Z;const Le=Q;Q=null,this.setClear(Le)}},getReversed:function(){return ie},setTest:function(Z){Z?J(n.DEPTH_TEST):pe(n.DEPTH_TEST)},setMask:function(Z){ae!==Z&&!L&&(n.depthMask(Z),ae=Z)},setFunc:function(Z){if(ie&&(Z=ZS[Z]),fe!==Z){switch(Z){case Lo:n.depthFunc(n.NEVER);break;case No:n.depthFunc(n.ALWAYS);break;case Uo:n.depthFunc(n.LESS);break;case Gi:n.depthFunc(n.LEQUAL);break;case Io:n.depthFunc(n.EQUAL);break;case ko:n.depthFunc(n.GEQUAL);break;case Fo:n.depthFunc(n.GREATER);break;case Oo:n.depthFunc(n.NOTEQUAL);break;default:n.depthFunc(n.LEQUAL)}fe=Z}},setLocked:function(Z){L=Z},setClear:function(Z){Q!==Z&&(ie&&(Z=1-Z),n.clearDepth(Z),Q=Z)},reset:function(){L=!1,ae=null,fe=null,Q=null,ie=!1}}}function r(){let L=!1,ie=null,ae=null,fe=null,Q=null,Z=null,ge=null,Le=null,et=null;return{setTest:function(Ye){L||(Ye?J(n.STENCIL_TEST):pe(n.STENCIL_TEST))},setMask:function(Ye){ie!==Ye&&!L&&(n.stencilMask(Ye),ie=Ye)},setFunc:function(Ye,Nn,gn){(ae!==Ye||fe!==Nn||Q!==gn)&&(n.stencilFunc(Ye,Nn,gn),ae=Ye,fe=Nn,Q=gn)},setOp:function(Ye,Nn,gn){(Z!==Ye||ge!==Nn||Le!==gn)&&(n.stencilOp(Ye,Nn,gn),Z=Ye,ge=Nn,Le=gn)},setLocked:function(Ye){L=Ye},setClear:function(Ye){et!==Ye&&(n.clearStencil(Ye),et=Ye)},reset:function(){L=!1,ie=null,ae=null,fe=null,Q=null,Z=null,ge=null,Le=null,et=null}}}const s=new t,a=new i,o=new r,l=new WeakMap,c=new WeakMap;let u={},d={},h=new WeakMap,p=[],g=null,_=!1,m=null,f=null,E=null,y=null,M=null,C=null,A=null,D=new Xe(0,0,0),F=0,w=!1,b=null,P=null,k=null,G=null,W=null;const Y=n.getParameter(n.MAX_COMBINED_TEXTURE_IMAGE_UNITS);let q=!1,te=0;const V=n.getParameter(n.VERSION);V.indexOf("WebGL")!==-1?(te=parseFloat(/^WebGL (\d)/.exec(V)[1]),q=te>=1):V.indexOf("OpenGL ES")!==-1&&(te=parseFloat(/^OpenGL ES (\d)/.exec(V)[1]),q=te>=2);let se=null,oe={};const ye=n.getParameter(n.SCISSOR_BOX),ze=n.getParameter(n.VIEWPORT),Qe=new ut().fromArray(ye),st=new ut().fromArray(ze);function qe(L,ie,ae,fe){const Q=new Uint8Array(4),Z=n.createTexture();n.bindTexture(L,Z),n.texParameteri(L,n.TEXTURE_MIN_FILTER,n.NEAREST),n.texParameteri(L,n.TEXTURE_MAG_FILTER,n.NEAREST);for(let ge=0;ge<ae;ge++)L===n.TEXTURE_3D||L===n.TEXTURE_2D_ARRAY?n.texImage3D(ie,0,n.RGBA,1,1,fe,0,n.RGBA,n.UNSIGNED_BYTE,Q):n.texImage2D(ie+ge,0,n.RGBA,1,1,0,n.RGBA,n.UNSIGNED_BYTE,Q);return Z}const j={};j[n.TEXTURE_2D]=qe(n.TEXTURE_2D,n.TEXTURE_2D,1),j[n.TEXTURE_CUBE_MAP]=qe(n.TEXTURE_CUBE_MAP,n.TEXTURE_CUBE_MAP_POSITIVE_X,6),j[n.TEXTURE_2D_ARRAY]=qe(n.TEXTURE_2D_ARRAY,n.TEXTURE_2D_ARRAY,1,1),j[n.TEXTURE_3D]=qe(n.TEXTURE_3D,n.TEXTURE_3D,1,1),s.setClear(0,0,0,1),a.setClear(1),o.setClear(0),J(n.DEPTH_TEST),a.setFunc(Gi),Ce(!1),_e(qu),J(n.CULL_FACE),at(Bn);function J(L){u[L]!==!0&&(n.enable(L),u[L]=!0)}function pe(L){u[L]!==!1&&(n.disable(L),u[L]=!1)}function De(L,ie){return d[L]!==ie?(n.bindFramebuffer(L,ie),d[L]=ie,L===n.DRAW_FRAMEBUFFER&&(d[n.FRAMEBUFFER]=ie),L===n.FRAMEBUFFER&&(d[n.DRAW_FRAMEBUFFER]=ie),!0):!1}function we(L,ie){let ae=p,fe=!1;if(L){ae=h.get(ie),ae===void 0&&(ae=[],h.set(ie,ae));const Q=L.textures;if(ae.length!==Q.length||ae[0]!==n.COLOR_ATTACHMENT0){for(let Z=0,ge=Q.length;Z<ge;Z++)ae[Z]=n.COLOR_ATTACHMENT0+Z;ae.length=Q.length,fe=!0}}else ae[0]!==n.BACK&&(ae[0]=n.BACK,fe=!0);fe&&n.drawBuffers(ae)}function Ve(L){return g!==L?(n.useProgram(L),g=L,!0):!1}const Ct={[ai]:n.FUNC_ADD,[Ug]:n.FUNC_SUBTRACT,[Ig]:n.FUNC_REVERSE_SUBTRACT};Ct[kg]=n.MIN,Ct[Fg]=n.MAX;const R={[Og]:n.ZERO,[Bg]:n.ONE,[zg]:n.SRC_COLOR,[Po]:n.SRC_ALPHA,[Xg]:n.SRC_ALPHA_SATURATE,[Wg]:n.DST_COLOR,[Vg]:n.DST_ALPHA,[Hg]:n.ONE_MINUS_SRC_COLOR,[Do]:n.ONE_MINUS_SRC_ALPHA,[$g]:n.ONE_MINUS_DST_COLOR,[Gg]:n.ONE_MINUS_DST_ALPHA,[qg]:n.CONSTANT_COLOR,[Yg]:n.ONE_MINUS_CONSTANT_COLOR,[jg]:n.CONSTANT_ALPHA,[Zg]:n.ONE_MINUS_CONSTANT_ALPHA};function at(L,ie,ae,fe,Q,Z,ge,Le,et,Ye){if(L===Bn){_===!0&&(pe(n.BLEND),_=!1);return}if(_===!1&&(J(n.BLEND),_=!0),L!==Ng){if(L!==m||Ye!==w){if((f!==ai||M!==ai)&&(n.blendEquation(n.FUNC_ADD),f=ai,M=ai),Ye)switch(L){case Vi:n.blendFuncSeparate(n.ONE,n.ONE_MINUS_SRC_ALPHA,n.ONE,n.ONE_MINUS_SRC_ALPHA);break;case ju:n.blendFunc(n.ONE,n.ONE);break;case Zu:n.blendFuncSeparate(n.ZERO,n.ONE_MINUS_SRC_COLOR,n.ZERO,n.ONE);break;case Ku:n.blendFuncSeparate(n.DST_COLOR,n.ONE_MINUS_SRC_ALPHA,n.ZERO,n.ONE);break;default:console.error("THREE.WebGLState: Invalid blending: ",L);break}else switch(L){case Vi:n.blendFuncSeparate(n.SRC_ALPHA,n.ONE_MINUS_SRC_ALPHA,n.ONE,n.ONE_MINUS_SRC_ALPHA);break;case ju:n.blendFuncSeparate(n.SRC_ALPHA,n.ONE,n.ONE,n.ONE);break;case Zu:console.error("THREE.WebGLState: SubtractiveBlending requires material.premultipliedAlpha = true");break;case Ku:console.error("THREE.WebGLState: MultiplyBlending requires material.premultipliedAlpha = true");break;default:console.error("THREE.WebGLState: Invalid blending: ",L);break}E=null,y=null,C=null,A=null,D.set(0,0,0),F=0,m=L,w=Ye}return}Q=Q||ie,Z=Z||ae,ge=ge||fe,(ie!==f||Q!==M)&&(n.blendEquationSeparate(Ct[ie],Ct[Q]),f=ie,M=Q),(ae!==E||fe!==y||Z!==C||ge!==A)&&(n.blendFuncSeparate(R[ae],R[fe],R[Z],R[ge]),E=ae,y=fe,C=Z,A=ge),(Le.equals(D)===!1||et!==F)&&(n.blendColor(Le.r,Le.g,Le.b,et),D.copy(Le),F=et),m=L,w=!1}function Ne(L,ie){L.side===Ht?pe(n.CULL_FACE):J(n.CULL_FACE);let ae=L.side===It;ie&&(ae=!ae),Ce(ae),L.blending===Vi&&L.transparent===!1?at(Bn):at(L.blending,L.blendEquation,L.blendSrc,L.blendDst,L.blendEquationAlpha,L.blendSrcAlpha,L.blendDstAlpha,L.blendColor,L.blendAlpha,L.premultipliedAlpha),a.setFunc(L.depthFunc),a.setTest(L.depthTest),a.setMask(L.depthWrite),s.setMask(L.colorWrite);const fe=L.stencilWrite;o.setTest(fe),fe&&(o.setMask(L.stencilWriteMask),o.setFunc(L.stencilFunc,L.stencilRef,L.stencilFuncMask),o.setOp(L.stencilFail,L.stencilZFail,L.stencilZPass)),ve(L.polygonOffset,L.polygonOffsetFactor,L.polygonOffsetUnits),L.alphaToCoverage===!0?J(n.SAMPLE_ALPHA_TO_COVERAGE):pe(n.SAMPLE_ALPHA_TO_COVERAGE)}function Ce(L){b!==L&&(L?n.frontFace(n.CW):n.frontFace(n.CCW),b=L)}function _e(L){L!==Pg?(J(n.CULL_FACE),L!==P&&(L===qu?n.cullFace(n.BACK):L===Dg?n.cullFace(n.FRONT):n.cullFace(n.FRONT_AND_BACK))):pe(n.CULL_FACE),P=L}function ot(L){L!==k&&(q&&n.lineWidth(L),k=L)}function ve(L,ie,ae){L?(J(n.POLYGON_OFFSET_FILL),(G!==ie||W!==ae)&&(n.polygonOffset(ie,ae),G=ie,W=ae)):pe(n.POLYGON_OFFSET_FILL)}function Oe(L){L?J(n.SCISSOR_TEST):pe(n.SCISSOR_TEST)}function Mt(L){L===void 0&&(L=n.TEXTURE0+Y-1),se!==L&&(n.activeTexture(L),se=L)}function ft(L,ie,ae){ae===void 0&&(se===null?ae=n.TEXTURE0+Y-1:ae=se);let fe=oe[ae];fe===void 0&&(fe={type:void 0,texture:void 0},oe[ae]=fe),(fe.type!==L||fe.texture!==ie)&&(se!==ae&&(n.activeTexture(ae),se=ae),n.bindTexture(L,ie||j[L]),fe.type=L,fe.texture=ie)}function T(){const L=oe[se];L!==void 0&&L.type!==void 0&&(n.bindTexture(L.type,null),L.type=void 0,L.texture=void 0)}function v(){try{n.compressedTexImage2D(...arguments)}catch(L){console.error("THREE.WebGLState:",L)}}function B(){try{n.compressedTexImage3D(...arguments)}catch(L){console.error("THREE.WebGLState:",L)}}function X(){try{n.texSubImage2D(...arguments)}catch(L){console.error("THREE.WebGLState:",L)}}function K(){try{n.texSubImage3D(...arguments)}catch(L){console.error("THREE.WebGLState:",L)}}function $(){try{n.compressedTexSubImage2D(...arguments)}catch(L){console.error("THREE.WebGLState:",L)}}function Me(){try{n.compressedTexSubImage3D(...arguments)}catch(L){console.error("THREE.WebGLState:",L)}}function re(){try{n.texStorage2D(...arguments)}catch(L){console.error("THREE.WebGLState:",L)}}function xe(){try{n.texStorage3D(...arguments)}catch(L){console.error("THREE.WebGLState:",L)}}function Se(){try{n.texImage2D(...arguments)}catch(L){console.error("THREE.WebGLState:",L)}}function ne(){try{n.texImage3D(...arguments)}catch(L){console.error("THREE.WebGLState:",L)}}function ue(L){Qe.equals(L)===!1&&(n.scissor(L.x,L.y,L.z,L.w),Qe.copy(L))}function Re(L){st.equals(L)===!1&&(n.viewport(L.x,L.y,L.z,L.w),st.copy(L))}function be(L,ie){let ae=c.get(ie);ae===void 0&&(ae=new WeakMap,c.set(ie,ae));let fe=ae.get(L);fe===void 0&&(fe=n.getUniformBlockIndex(ie,L.name),ae.set(L,fe))}function ce(L,ie){const fe=c.get(ie).get(L);l.get(ie)!==fe&&(n.uniformBlockBinding(ie,fe,L.__bindingPointIndex),l.set(ie,fe))}function Ie(){n.disable(n.BLEND),n.disable(n.CULL_FACE),n.disable(n.DEPTH_TEST),n.disable(n.POLYGON_OFFSET_FILL),n.disable(n.SCISSOR_TEST),n.disable(n.STENCIL_TEST),n.disable(n.SAMPLE_ALPHA_TO_COVERAGE),n.blendEquation(n.FUNC_ADD),n.blendFunc(n.ONE,n.ZERO),n.blendFuncSeparate(n.ONE,n.ZERO,n.ONE,n.ZERO),n.blendColor(0,0,0,0),n.colorMask(!0,!0,!0,!0),n.clearColor(0,0,0,0),n.depthMask(!0),n.depthFunc(n.LESS),a.setReversed(!1),n.clearDepth(1),n.stencilMask(4294967295),n.stencilFunc(n.ALWAYS,0,4294967295),n.stencilOp(n.KEEP,n.KEEP,n.KEEP),n.clearStencil(0),n.cullFace(n.BACK),n.frontFace(n.CCW),n.polygonOffset(0,0),n.activeTexture(n.TEXTURE0),n.bindFramebuffer(n.FRAMEBUFFER,null),n.bindFramebuffer(n.DRAW_FRAMEBUFFER,null),n.bindFramebuffer(n.READ_FRAMEBUFFER,null),n.useProgram(null),n.lineWidth(1),n.scissor(0,0,n.canvas.width,n.canvas.height),n.viewport(0,0,n.canvas.width,n.canvas.height),u={},se=null,oe={},d={},h=new WeakMap,p=[],g=null,_=!1,m=null,f=null,E=null,y=null,M=null,C=null,A=null,D=new Xe(0,0,0),F=0,w=!1,b=null,P=null,k=null,G=null,W=null,Qe.set(0,0,n.canvas.width,n.canvas.height),st.set(0,0,n.canvas.width,n.canvas.height),s.reset(),a.reset(),o.reset()}return{buffers:{color:s,depth:a,stencil:o},enable:J,disable:pe,bindFramebuffer:De,drawBuffers:we,useProgram:Ve,setBlending:at,setMaterial:Ne,setFlipSided:Ce,setCullFace:_e,setLineWidth:ot,setPolygonOffset:ve,setScissorTest:Oe,activeTexture:Mt,bindTexture:ft,unbindTexture:T,compressedTexImage2D:v,compressedTexImage3D:B,texImage2D:Se,texImage3D:ne,updateUBOMapping:be,uniformBlockBinding:ce,texStorage2D:re,texStorage3D:xe,texSubImage2D:X,texSubImage3D:K,compressedTexSubImage2D:$,compressedTexSubImage3D:Me,scissor:ue,viewport:Re,reset:Ie}}function JS(n,e,t,i,r,s,a){const o=e.has("WEBGL_multisampled_render_to_texture")?e.get("WEBGL_multisampled_render_to_texture"):null,l=typeof navigator>"u"?!1:/OculusBrowser/g.test(navigator.userAgent),c=new ke,u=new WeakMap;let d;const h=new WeakMap;let p=!1;try{p=typeof OffscreenCanvas<"u"&&new OffscreenCanvas(1,1).getContext("2d")!==null}catch{}function g(T,v){return p?new OffscreenCanvas(T,v):Ws("canvas")}function _(T,v,B){let X=1;const K=ft(T);if((K.width>B||K.height>B)&&(X=B/Math.max(K.width,K.height)),X<1)if(typeof HTMLImageElement<"u"&&T instanceof HTMLImageElement||typeof HTMLCanvasElement<"u"&&T instanceof HTMLCanvasElement||typeof ImageBitmap<"u"&&T instanceof ImageBitmap||typeof VideoFrame<"u"&&T instanceof VideoFrame){const $=Math.floor(X*K.width),Me=Math.floor(X*K.height);d===void 0&&(d=g($,Me));const re=v?g($,Me):d;return re.width=$,re.height=Me,re.getContext("2d").drawImage(T,0,0,$,Me),console.warn("THREE.WebGLRenderer: Texture has been resized from ("+K.width+"x"+K.height+") to ("+$+"x"+Me+")."),re}else return"data"in T&&console.warn("THREE.WebGLRenderer: Image in DataTexture is too big ("+K.width+"x"+K.height+")."),T;return T}function m(T){return T.generateMipmaps}function f(T){n.generateMipmap(T)}function E(T){return T.isWebGLCubeRenderTarget?n.TEXTURE_CUBE_MAP:T.isWebGL3DRenderTarget?n.TEXTURE_3D:T.isWebGLArrayRenderTarget||T.isCompressedArrayTexture?n.TEXTURE_2D_ARRAY:n.TEXTURE_2D}function y(T,v,B,X,K=!1){if(T!==null){if(n[T]!==void 0)return n[T];console.warn("THREE.WebGLRenderer: Attempt to use non-existing WebGL internal format '"+T+"'")}let $=v;if(v===n.RED&&(B===n.FLOAT&&($=n.R32F),B===n.HALF_FLOAT&&($=n.R16F),B===n.UNSIGNED_BYTE&&($=n.R8)),v===n.RED_INTEGER&&(B===n.UNSIGNED_BYTE&&($=n.R8UI),B===n.UNSIGNED_SHORT&&($=n.R16UI),B===n.UNSIGNED_INT&&($=n.R32UI),B===n.BYTE&&($=n.R8I),B===n.SHORT&&($=n.R16I),B===n.INT&&($=n.R32I)),v===n.RG&&(B===n.FLOAT&&($=n.RG32F),B===n.HALF_FLOAT&&($=n.RG16F),B===n.UNSIGNED_BYTE&&($=n.RG8)),v===n.RG_INTEGER&&(B===n.UNSIGNED_BYTE&&($=n.RG8UI),B===n.UNSIGNED_SHORT&&($=n.RG16UI),B===n.UNSIGNED_INT&&($=n.RG32UI),B===n.BYTE&&($=n.RG8I),B===n.SHORT&&($=n.RG16I),B===n.INT&&($=n.RG32I)),v===n.RGB_INTEGER&&(B===n.UNSIGNED_BYTE&&($=n.RGB8UI),B===n.UNSIGNED_SHORT&&($=n.RGB16UI),B===n.UNSIGNED_INT&&($=n.RGB32UI),B===n.BYTE&&($=n.RGB8I),B===n.SHORT&&($=n.RGB16I),B===n.INT&&($=n.RGB32I)),v===n.RGBA_INTEGER&&(B===n.UNSIGNED_BYTE&&($=n.RGBA8UI),B===n.UNSIGNED_SHORT&&($=n.RGBA16UI),B===n.UNSIGNED_INT&&($=n.RGBA32UI),B===n.BYTE&&($=n.RGBA8I),B===n.SHORT&&($=n.RGBA16I),B===n.INT&&($=n.RGBA32I)),v===n.RGB&&(B===n.UNSIGNED_INT_5_9_9_9_REV&&($=n.RGB9_E5),B===n.UNSIGNED_INT_10F_11F_11F_REV&&($=n.R11F_G11F_B10F)),v===n.RGBA){const Me=K?Hs:Ge.getTransfer(X);B===n.FLOAT&&($=n.RGBA32F),B===n.HALF_FLOAT&&($=n.RGBA16F),B===n.UNSIGNED_BYTE&&($=Me===je?n.SRGB8_ALPHA8:n.RGBA8),B===n.UNSIGNED_SHORT_4_4_4_4&&($=n.RGBA4),B===n.UNSIGNED_SHORT_5_5_5_1&&($=n.RGB5_A1)}return($===n.R16F||$===n.R32F||$===n.RG16F||$===n.RG32F||$===n.RGBA16F||$===n.RGBA32F)&&e.get("EXT_color_buffer_float"),$}function M(T,v){let B;return T?v===null||v===ci||v===Lr?B=n.DEPTH24_STENCIL8:v===wn?B=n.DEPTH32F_STENCIL8:v===Pr&&(B=n.DEPTH24_STENCIL8,console.warn("DepthTexture: 16 bit depth attachment is not supported with stencil. Using 24-bit attachment.")):v===null||v===ci||v===Lr?B=n.DEPTH_COMPONENT24:v===wn?B=n.DEPTH_COMPONENT32F:v===Pr&&(B=n.DEPTH_COMPONENT16),B}function C(T,v){return m(T)===!0||T.isFramebufferTexture&&T.minFilter!==tn&&T.minFilter!==nn?Math.log2(Math.max(v.width,v.height))+1:T.mipmaps!==void 0&&T.mipmaps.length>0?T.mipmaps.length:T.isCompressedTexture&&Array.isArray(T.image)?v.mipmaps.length:1}function A(T){const v=T.target;v.removeEventListener("dispose",A),F(v),v.isVideoTexture&&u.delete(v)}function D(T){const v=T.target;v.removeEventListener("dispose",D),b(v)}function F(T){const v=i.get(T);if(v.__webglInit===void 0)return;const B=T.source,X=h.get(B);if(X){const K=X[v.__cacheKey];K.usedTimes--,K.usedTimes===0&&w(T),Object.keys(X).length===0&&h.delete(B)}i.remove(T)}function w(T){const v=i.get(T);n.deleteTexture(v.__webglTexture);const B=T.source,X=h.get(B);delete X[v.__cacheKey],a.memory.textures--}function b(T){const v=i.get(T);if(T.depthTexture&&(T.depthTexture.dispose(),i.remove(T.depthTexture)),T.isWebGLCubeRenderTarget)for(let X=0;X<6;X++){if(Array.isArray(v.__webglFramebuffer[X]))for(let K=0;K<v.__webglFramebuffer[X].length;K++)n.deleteFramebuffer(v.__webglFramebuffer[X][K]);else n.deleteFramebuffer(v.__webglFramebuffer[X]);v.__webglDepthbuffer&&n.deleteRenderbuffer(v.__webglDepthbuffer[X])}else{if(Array.isArray(v.__webglFramebuffer))for(let X=0;X<v.__webglFramebuffer.length;X++)n.deleteFramebuffer(v.__webglFramebuffer[X]);else n.deleteFramebuffer(v.__webglFramebuffer);if(v.__webglDepthbuffer&&n.deleteRenderbuffer(v.__webglDepthbuffer),v.__webglMultisampledFramebuffer&&n.deleteFramebuffer(v.__webglMultisampledFramebuffer),v.__webglColorRenderbuffer)for(let X=0;X<v.__webglColorRenderbuffer.length;X++)v.__webglColorRenderbuffer[X]&&n.deleteRenderbuffer(v.__webglColorRenderbuffer[X]);v.__webglDepthRenderbuffer&&n.deleteRenderbuffer(v.__webglDepthRenderbuffer)}const B=T.textures;for(let X=0,K=B.length;X<K;X++){const $=i.get(B[X]);$.__webglTexture&&(n.deleteTexture($.__webglTexture),a.memory.textures--),i.remove(B[X])}i.remove(T)}let P=0;function k(){P=0}function G(){const T=P;return T>=r.maxTextures&&console.warn("THREE.WebGLTextures: Trying to use "+T+" texture units while this GPU supports only "+r.maxTextures),P+=1,T}function W(T){const v=[];return v.push(T.wrapS),v.push(T.wrapT),v.push(T.wrapR||0),v.push(T.magFilter),v.push(T.minFilter),v.push(T.anisotropy),v.push(T.internalFormat),v.push(T.format),v.push(T.type),v.push(T.generateMipmaps),v.push(T.premultiplyAlpha),v.push(T.flipY),v.push(T.unpackAlignment),v.push(T.colorSpace),v.join()}function Y(T,v){const B=i.get(T);if(T.isVideoTexture&&Oe(T),T.isRenderTargetTexture===!1&&T.isExternalTexture!==!0&&T.version>0&&B.__version!==T.version){const X=T.image;if(X===null)console.warn("THREE.WebGLRenderer: Texture marked for update but no image data found.");else if(X.complete===!1)console.warn("THREE.WebGLRenderer: Texture marked for update but image is incomplete");else{j(B,T,v);return}}else T.isExternalTexture&&(B.__webglTexture=T.sourceTexture?T.sourceTexture:null);t.bindTexture(n.TEXTURE_2D,B.__webglTexture,n.TEXTURE0+v)}function q(T,v){const B=i.get(T);if(T.isRenderTargetTexture===!1&&T.version>0&&B.__version!==T.version){j(B,T,v);return}t.bindTexture(n.TEXTURE_2D_ARRAY,B.__webglTexture,n.TEXTURE0+v)}function te(T,v){const B=i.get(T);if(T.isRenderTargetTexture===!1&&T.version>0&&B.__version!==T.version){j(B,T,v);return}t.bindTexture(n.TEXTURE_3D,B.__webglTexture,n.TEXTURE0+v)}function V(T,v){const B=i.get(T);if(T.version>0&&B.__version!==T.version){J(B,T,v);return}t.bindTexture(n.TEXTURE_CUBE_MAP,B.__webglTexture,n.TEXTURE0+v)}const se={[Ho]:n.REPEAT,[oi]:n.CLAMP_TO_EDGE,[Vo]:n.MIRRORED_REPEAT},oe={[tn]:n.NEAREST,[a_]:n.NEAREST_MIPMAP_NEAREST,[ks]:n.NEAREST_MIPMAP_LINEAR,[nn]:n.LINEAR,[Go]:n.LINEAR_MIPMAP_NEAREST,[li]:n.LINEAR_MIPMAP_LINEAR},ye={[u_]:n.NEVER,[__]:n.ALWAYS,[d_]:n.LESS,[cd]:n.LEQUAL,[f_]:n.EQUAL,[g_]:n.GEQUAL,[p_]:n.GREATER,[m_]:n.NOTEQUAL};function ze(T,v){if(v.type===wn&&e.has("OES_texture_float_linear")===!1&&(v.magFilter===nn||v.magFilter===Go||v.magFilter===ks||v.magFilter===li||v.minFilter===nn||v.minFilter===Go||v.minFilter===ks||v.minFilter===li)&&console.warn("THREE.WebGLRenderer: Unable to use linear filtering with floating point textures. OES_texture_float_linear not supported on this device."),n.texParameteri(T,n.TEXTURE_WRAP_S,se[v.wrapS]),n.texParameteri(T,n.TEXTURE_WRAP_T,se[v.wrapT]),(T===n.TEXTURE_3D||T===n.TEXTURE_2D_ARRAY)&&n.texParameteri(T,n.TEXTURE_WRAP_R,se[v.wrapR]),n.texParameteri(T,n.TEXTURE_MAG_FILTER,oe[v.magFilter]),n.texParameteri(T,n.TEXTURE_MIN_FILTER,oe[v.minFilter]),v.compareFunction&&(n.texParameteri(T,n.TEXTURE_COMPARE_MODE,n.COMPARE_REF_TO_TEXTURE),n.texParameteri(T,n.TEXTURE_COMPARE_FUNC,ye[v.compareFunction])),e.has("EXT_texture_filter_anisotropic")===!0){if(v.magFilter===tn||v.minFilter!==ks&&v.minFilter!==li||v.type===wn&&e.has("OES_texture_float_linear")===!1)return;if(v.anisotropy>1||i.get(v).__currentAnisotropy){const B=e.get("EXT_texture_filter_anisotropic");n.texParameterf(T,B.TEXTURE_MAX_ANISOTROPY_EXT,Math.min(v.anisotropy,r.getMaxAnisotropy())),i.get(v).__currentAnisotropy=v.anisotropy}}}function Qe(T,v){let B=!1;T.__webglInit===void 0&&(T.__webglInit=!0,v.addEventListener("dispose",A));const X=v.source;let K=h.get(X);K===void 0&&(K={},h.set(X,K));const $=W(v);if($!==T.__cacheKey){K[$]===void 0&&(K[$]={texture:n.createTexture(),usedTimes:0},a.memory.textures++,B=!0),K[$].usedTimes++;const Me=K[T.__cacheKey];Me!==void 0&&(K[T.__cacheKey].usedTimes--,Me.usedTimes===0&&w(v)),T.__cacheKey=$,T.__webglTexture=K[$].texture}return B}function st(T,v,B){return Math.floor(Math.floor(T/B)/v)}function qe(T,v,B,X){const $=T.updateRanges;if($.length===0)t.texSubImage2D(n.TEXTURE_2D,0,0,0,v.width,v.height,B,X,v.data);else{$.sort((ne,ue)=>ne.start-ue.start);let Me=0;for(let ne=1;ne<$.length;ne++){const ue=$[Me],Re=$[ne],be=ue.start+ue.count,ce=st(Re.start,v.width,4),Ie=st(ue.start,v.width,4);Re.start<=be+1&&ce===Ie&&st(Re.start+Re.count-1,v.width,4)===ce?ue.count=Math.max(ue.count,Re.start+Re.count-ue.start):(++Me,$[Me]=Re)}$.length=Me+1;const re=n.getParameter(n.UNPACK_ROW_LENGTH),xe=n.getParameter(n.UNPACK_SKIP_PIXELS),Se=n.getParameter(n.UNPACK_SKIP_ROWS);n.pixelStorei(n.UNPACK_ROW_LENGTH,v.width);for(let ne=0,ue=$.length;ne<ue;ne++){const Re=$[ne],be=Math.floor(Re.start/4),ce=Math.ceil(Re.count/4),Ie=be%v.width,L=Math.floor(be/v.width),ie=ce,ae=1;n.pixelStorei(n.UNPACK_SKIP_PIXELS,Ie),n.pixelStorei(n.UNPACK_SKIP_ROWS,L),t.texSubImage2D(n.TEXTURE_2D,0,Ie,L,ie,ae,B,X,v.data)}T.clearUpdateRanges(),n.pixelStorei(n.UNPACK_ROW_LENGTH,re),n.pixelStorei(n.UNPACK_SKIP_PIXELS,xe),n.pixelStorei(n.UNPACK_SKIP_ROWS,Se)}}function j(T,v,B){let X=n.TEXTURE_2D;(v.isDataArrayTexture||v.isCompressedArrayTexture)&&(X=n.TEXTURE_2D_ARRAY),v.isData3DTexture&&(X=n.TEXTURE_3D);const K=Qe(T,v),$=v.source;t.bindTexture(X,T.__webglTexture,n.TEXTURE0+B);const Me=i.get($);if($.version!==Me.__version||K===!0){t.activeTexture(n.TEXTURE0+B);const re=Ge.getPrimaries(Ge.workingColorSpace),xe=v.colorSpace===Hn?null:Ge.getPrimaries(v.colorSpace),Se=v.colorSpace===Hn||re===xe?n.NONE:n.BROWSER_DEFAULT_WEBGL;n.pixelStorei(n.UNPACK_FLIP_Y_WEBGL,v.flipY),n.pixelStorei(n.UNPACK_PREMULTIPLY_ALPHA_WEBGL,v.premultiplyAlpha),n.pixelStorei(n.UNPACK_ALIGNMENT,v.unpackAlignment),n.pixelStorei(n.UNPACK_COLORSPACE_CONVERSION_WEBGL,Se);let ne=_(v.image,!1,r.maxTextureSize);ne=Mt(v,ne);const ue=s.convert(v.format,v.colorSpace),Re=s.convert(v.type);let be=y(v.internalFormat,ue,Re,v.colorSpace,v.isVideoTexture);ze(X,v);let ce;const Ie=v.mipmaps,L=v.isVideoTexture!==!0,ie=Me.__version===void 0||K===!0,ae=$.dataReady,fe=C(v,ne);if(v.isDepthTexture)be=M(v.format===Ur,v.type),ie&&(L?t.texStorage2D(n.TEXTURE_2D,1,be,ne.width,ne.height):t.texImage2D(n.TEXTURE_2D,0,be,ne.width,ne.height,0,ue,Re,null));else if(v.isDataTexture)if(Ie.length>0){L&&ie&&t.texStorage2D(n.TEXTURE_2D,fe,be,Ie[0].width,Ie[0].height);for(let Q=0,Z=Ie.length;Q<Z;Q++)ce=Ie[Q],L?ae&&t.texSubImage2D(n.TEXTURE_2D,Q,0,0,ce.width,ce.height,ue,Re,ce.data):t.texImage2D(n.TEXTURE_2D,Q,be,ce.width,ce.height,0,ue,Re,ce.data);v.generateMipmaps=!1}else L?(ie&&t.texStorage2D(n.TEXTURE_2D,fe,be,ne.width,ne.height),ae&&qe(v,ne,ue,Re)):t.texImage2D(n.TEXTURE_2D,0,be,ne.width,ne.height,0,ue,Re,ne.data);else if(v.isCompressedTexture)if(v.isCompressedArrayTexture){L&&ie&&t.texStorage3D(n.TEXTURE_2D_ARRAY,fe,be,Ie[0].width,Ie[0].height,ne.depth);for(let Q=0,Z=Ie.length;Q<Z;Q++)if(ce=Ie[Q],v.format!==rn)if(ue!==null)if(L){if(ae)if(v.layerUpdates.size>0){const ge=Yd(ce.width,ce.height,v.format,v.type);for(const Le of v.layerUpdates){const et=ce.data.subarray(Le*ge/ce.data.BYTES_PER_ELEMENT,(Le+1)*ge/ce.data.BYTES_PER_ELEMENT);t.compressedTexSubImage3D(n.TEXTURE_2D_ARRAY,Q,0,0,Le,ce.width,ce.height,1,ue,et)}v.clearLayerUpdates()}else t.compressedTexSubImage3D(n.TEXTURE_2D_ARRAY,Q,0,0,0,ce.width,ce.height,ne.depth,ue,ce.data)}else t.compressedTexImage3D(n.TEXTURE_2D_ARRAY,Q,be,ce.width,ce.height,ne.depth,0,ce.data,0,0);else console.warn("THREE.WebGLRenderer: Attempt to load unsupported compressed texture format in .uploadTexture()");else L?ae&&t.texSubImage3D(n.TEXTURE_2D_ARRAY,Q,0,0,0,ce.width,ce.height,ne.depth,ue,Re,ce.data):t.texImage3D(n.TEXTURE_2D_ARRAY,Q,be,ce.width,ce.height,ne.depth,0,ue,Re,ce.data)}else{L&&ie&&t.texStorage2D(n.TEXTURE_2D,fe,be,Ie[0].width,Ie[0].height);for(let Q=0,Z=Ie.length;Q<Z;Q++)ce=Ie[Q],v.format!==rn?ue!==null?L?ae&&t.compressedTexSubImage2D(n.TEXTURE_2D,Q,0,0,ce.width,ce.height,ue,ce.data):t.compressedTexImage2D(n.TEXTURE_2D,Q,be,ce.width,ce.height,0,ce.data):console.warn("THREE.WebGLRenderer: Attempt to load unsupported compressed texture format in .uploadTexture()"):L?ae&&t.texSubImage2D(n.TEXTURE_2D,Q,0,0,ce.width,ce.height,ue,Re,ce.data):t.texImage2D(n.TEXTURE_2D,Q,be,ce.width,ce.height,0,ue,Re,ce.data)}else if(v.isDataArrayTexture)if(L){if(ie&&t.texStorage3D(n.TEXTURE_2D_ARRAY,fe,be,ne.width,ne.height,ne.depth),ae)if(v.layerUpdates.size>0){const Q=Yd(ne.width,ne.height,v.format,v.type);for(const Z of v.layerUpdates){const ge=ne.data.subarray(Z*Q/ne.data.BYTES_PER_ELEMENT,(Z+1)*Q/ne.data.BYTES_PER_ELEMENT);t.texSubImage3D(n.TEXTURE_2D_ARRAY,0,0,0,Z,ne.width,ne.height,1,ue,Re,ge)}v.clearLayerUpdates()}else t.texSubImage3D(n.TEXTURE_2D_ARRAY,0,0,0,0,ne.width,ne.height,ne.depth,ue,Re,ne.data)}else t.texImage3D(n.TEXTURE_2D_ARRAY,0,be,ne.width,ne.height,ne.depth,0,ue,Re,ne.data);else if(v.isData3DTexture)L?(ie&&t.texStorage3D(n.TEXTURE_3D,fe,be,ne.width,ne.height,ne.depth),ae&&t.texSubImage3D(n.TEXTURE_3D,0,0,0,0,ne.width,ne.height,ne.depth,ue,Re,ne.data)):t.texImage3D(n.TEXTURE_3D,0,be,ne.width,ne.height,ne.depth,0,ue,Re,ne.data);else if(v.isFramebufferTexture){if(ie)if(L)t.texStorage2D(n.TEXTURE_2D,fe,be,ne.width,ne.height);else{let Q=ne.width,Z=ne.height;for(let ge=0;ge<fe;ge++)t.texImage2D(n.TEXTURE_2D,ge,be,Q,Z,0,ue,Re,null),Q>>=1,Z>>=1}}else if(Ie.length>0){if(L&&ie){const Q=ft(Ie[0]);t.texStorage2D(n.TEXTURE_2D,fe,be,Q.width,Q.height)}for(let Q=0,Z=Ie.length;Q<Z;Q++)ce=Ie[Q],L?ae&&t.texSubImage2D(n.TEXTURE_2D,Q,0,0,ue,Re,ce):t.texImage2D(n.TEXTURE_2D,Q,be,ue,Re,ce);v.generateMipmaps=!1}else if(L){if(ie){const Q=ft(ne);t.texStorage2D(n.TEXTURE_2D,fe,be,Q.width,Q.height)}ae&&t.texSubImage2D(n.TEXTURE_2D,0,0,0,ue,Re,ne)}else t.texImage2D(n.TEXTURE_2D,0,be,ue,Re,ne);m(v)&&f(X),Me.__version=$.version,v.onUpdate&&v.onUpdate(v)}T.__version=v.version}function J(T,v,B){if(v.image.length!==6)return;const X=Qe(T,v),K=v.source;t.bindTexture(n.TEXTURE_CUBE_MAP,T.__webglTexture,n.TEXTURE0+B);const $=i.get(K);if(K.version!==$.__version||X===!0){t.activeTexture(n.TEXTURE0+B);const Me=Ge.getPrimaries(Ge.workingColorSpace),re=v.colorSpace===Hn?null:Ge.getPrimaries(v.colorSpace),xe=v.colorSpace===Hn||Me===re?n.NONE:n.BROWSER_DEFAULT_WEBGL;n.pixelStorei(n.UNPACK_FLIP_Y_WEBGL,v.flipY),n.pixelStorei(n.UNPACK_PREMULTIPLY_ALPHA_WEBGL,v.premultiplyAlpha),n.pixelStorei(n.UNPACK_ALIGNMENT,v.unpackAlignment),n.pixelStorei(n.UNPACK_COLORSPACE_CONVERSION_WEBGL,xe);const Se=v.isCompressedTexture||v.image[0].isCompressedTexture,ne=v.image[0]&&v.image[0].isDataTexture,ue=[];for(let Z=0;Z<6;Z++)!Se&&!ne?ue[Z]=_(v.image[Z],!0,r.maxCubemapSize):ue[Z]=ne?v.image[Z].image:v.image[Z],ue[Z]=Mt(v,ue[Z]);const Re=ue[0],be=s.convert(v.format,v.colorSpace),ce=s.convert(v.type),Ie=y(v.internalFormat,be,ce,v.colorSpace),L=v.isVideoTexture!==!0,ie=$.__version===void 0||X===!0,ae=K.dataReady;let fe=C(v,Re);ze(n.TEXTURE_CUBE_MAP,v);let Q;if(Se){L&&ie&&t.texStorage2D(n.TEXTURE_CUBE_MAP,fe,Ie,Re.width,Re.height);for(let Z=0;Z<6;Z++){Q=ue[Z].mipmaps;for(let ge=0;ge<Q.length;ge++){const Le=Q[ge];v.format!==rn?be!==null?L?ae&&t.compressedTexSubImage2D(n.TEXTURE_CUBE_MAP_POSITIVE_X+Z,ge,0,0,Le.width,Le.height,be,Le.data):t.compressedTexImage2D(n.TEXTURE_CUBE_MAP_POSITIVE_X+Z,ge,Ie,Le.width,Le.height,0,Le.data):console.warn("THREE.WebGLRenderer: Attempt to load unsupported compressed texture format in .setTextureCube()"):L?ae&&t.texSubImage2D(n.TEXTURE_CUBE_MAP_POSITIVE_X+Z,ge,0,0,Le.width,Le.height,be,ce,Le.data):t.texImage2D(n.TEXTURE_CUBE_MAP_POSITIVE_X+Z,ge,Ie,Le.width,Le.height,0,be,ce,Le.data)}}}else{if(Q=v.mipmaps,L&&ie){Q.length>0&&fe++;const Z=ft(ue[0]);t.texStorage2D(n.TEXTURE_CUBE_MAP,fe,Ie,Z.width,Z.height)}for(let Z=0;Z<6;Z++)if(ne){L?ae&&t.texSubImage2D(n.TEXTURE_CUBE_MAP_POSITIVE_X+Z,0,0,0,ue[Z].width,ue[Z].height,be,ce,ue[Z].data):t.texImage2D(n.TEXTURE_CUBE_MAP_POSITIVE_X+Z,0,Ie,ue[Z].width,ue[Z].height,0,be,ce,ue[Z].data);for(let ge=0;ge<Q.length;ge++){const et=Q[ge].image[Z].image;L?ae&&t.texSubImage2D(n.TEXTURE_CUBE_MAP_POSITIVE_X+Z,ge+1,0,0,et.width,et.height,be,ce,et.data):t.texImage2D(n.TEXTURE_CUBE_MAP_POSITIVE_X+Z,ge+1,Ie,et.width,et.height,0,be,ce,et.data)}}else{L?ae&&t.texSubImage2D(n.TEXTURE_CUBE_MAP_POSITIVE_X+Z,0,0,0,be,ce,ue[Z]):t.texImage2D(n.TEXTURE_CUBE_MAP_POSITIVE_X+Z,0,Ie,be,ce,ue[Z]);for(let ge=0;ge<Q.length;ge++){const Le=Q[ge];L?ae&&t.texSubImage2D(n.TEXTURE_CUBE_MAP_POSITIVE_X+Z,ge+1,0,0,be,ce,Le.image[Z]):t.texImage2D(n.TEXTURE_CUBE_MAP_POSITIVE_X+Z,ge+1,Ie,be,ce,Le.image[Z])}}}m(v)&&f(n.TEXTURE_CUBE_MAP),$.__version=K.version,v.onUpdate&&v.onUpdate(v)}T.__version=v.version}function pe(T,v,B,X,K,$){const Me=s.convert(B.format,B.colorSpace),re=s.convert(B.type),xe=y(B.internalFormat,Me,re,B.colorSpace),Se=i.get(v),ne=i.get(B);if(ne.__renderTarget=v,!Se.__hasExternalTextures){const ue=Math.max(1,v.width>>$),Re=Math.max(1,v.height>>$);K===n.TEXTURE_3D||K===n.TEXTURE_2D_ARRAY?t.texImage3D(K,$,xe,ue,Re,v.depth,0,Me,re,null):t.texImage2D(K,$,xe,ue,Re,0,Me,re,null)}t.bindFramebuffer(n.FRAMEBUFFER,T),ve(v)?o.framebufferTexture2DMultisampleEXT(n.FRAMEBUFFER,X,K,ne.__webglTexture,0,ot(v)):(K===n.TEXTURE_2D||K>=n.TEXTURE_CUBE_MAP_POSITIVE_X&&K<=n.TEXTURE_CUBE_MAP_NEGATIVE_Z)&&n.framebufferTexture2D(n.FRAMEBUFFER,X,K,ne.__webglTexture,$),t.bindFramebuffer(n.FRAMEBUFFER,null)}function De(T,v,B){if(n.bindRenderbuffer(n.RENDERBUFFER,T),v.depthBuffer){const X=v.depthTexture,K=X&&X.isDepthTexture?X.type:null,$=M(v.stencilBuffer,K),Me=v.stencilBuffer?n.DEPTH_STENCIL_ATTACHMENT:n.DEPTH_ATTACHMENT,re=ot(v);ve(v)?o.renderbufferStorageMultisampleEXT(n.RENDERBUFFER,re,$,v.width,v.height):B?n.renderbufferStorageMultisample(n.RENDERBUFFER,re,$,v.width,v.height):n.renderbufferStorage(n.RENDERBUFFER,$,v.width,v.height),n.framebufferRenderbuffer(n.FRAMEBUFFER,Me,n.RENDERBUFFER,T)}else{const X=v.textures;for(let K=0;K<X.length;K++){const $=X[K],Me=s.convert($.format,$.colorSpace),re=s.convert($.type),xe=y($.internalFormat,Me,re,$.colorSpace),Se=ot(v);B&&ve(v)===!1?n.renderbufferStorageMultisample(n.RENDERBUFFER,Se,xe,v.width,v.height):ve(v)?o.renderbufferStorageMultisampleEXT(n.RENDERBUFFER,Se,xe,v.width,v.height):n.renderbufferStorage(n.RENDERBUFFER,xe,v.width,v.height)}}n.bindRenderbuffer(n.RENDERBUFFER,null)}function we(T,v){if(v&&v.isWebGLCubeRenderTarget)throw new Error("Depth Texture with cube render targets is not supported");if(t.bindFramebuffer(n.FRAMEBUFFER,T),!(v.depthTexture&&v.depthTexture.isDepthTexture))throw new Error("renderTarget.depthTexture must be an instance of THREE.DepthTexture");const X=i.get(v.depthTexture);X.__renderTarget=v,(!X.__webglTexture||v.depthTexture.image.width!==v.width||v.depthTexture.image.height!==v.height)&&(v.depthTexture.image.width=v.width,v.depthTexture.image.height=v.height,v.depthTexture.needsUpdate=!0),Y(v.depthTexture,0);const K=X.__webglTexture,$=ot(v);if(v.depthTexture.format===Nr)ve(v)?o.framebufferTexture2DMultisampleEXT(n.FRAMEBUFFER,n.DEPTH_ATTACHMENT,n.TEXTURE_2D,K,0,$):n.framebufferTexture2D(n.FRAMEBUFFER,n.DEPTH_ATTACHMENT,n.TEXTURE_2D,K,0);else if(v.depthTexture.format===Ur)ve(v)?o.framebufferTexture2DMultisampleEXT(n.FRAMEBUFFER,n.DEPTH_STENCIL_ATTACHMENT,n.TEXTURE_2D,K,0,$):n.framebufferTexture2D(n.FRAMEBUFFER,n.DEPTH_STENCIL_ATTACHMENT,n.TEXTURE_2D,K,0);else throw new Error("Unknown depthTexture format")}function Ve(T){const v=i.get(T),B=T.isWebGLCubeRenderTarget===!0;if(v.__boundDepthTexture!==T.depthTexture){const X=T.depthTexture;if(v.__depthDisposeCallback&&v.__depthDisposeCallback(),X){const K=()=>{delete v.__boundDepthTexture,delete v.__depthDisposeCallback,X.removeEventListener("dispose",K)};X.addEventListener("dispose",K),v.__depthDisposeCallback=K}v.__boundDepthTexture=X}if(T.depthTexture&&!v.__autoAllocateDepthBuffer){if(B)throw new Error("target.depthTexture not supported in Cube render targets");const X=T.texture.mipmaps;X&&X.length>0?we(v.__webglFramebuffer[0],T):we(v.__webglFramebuffer,T)}else if(B){v.__webglDepthbuffer=[];for(let X=0;X<6;X++)if(t.bindFramebuffer(n.FRAMEBUFFER,v.__webglFramebuffer[X]),v.__webglDepthbuffer[X]===void 0)v.__webglDepthbuffer[X]=n.createRenderbuffer(),De(v.__webglDepthbuffer[X],T,!1);else{const K=T.stencilBuffer?n.DEPTH_STENCIL_ATTACHMENT:n.DEPTH_ATTACHMENT,$=v.__webglDepthbuffer[X];n.bindRenderbuffer(n.RENDERBUFFER,$),n.framebufferRenderbuffer(n.FRAMEBUFFER,K,n.RENDERBUFFER,$)}}else{const X=T.texture.mipmaps;if(X&&X.length>0?t.bindFramebuffer(n.FRAMEBUFFER,v.__webglFramebuffer[0]):t.bindFramebuffer(n.FRAMEBUFFER,v.__webglFramebuffer),v.__webglDepthbuffer===void 0)v.__webglDepthbuffer=n.createRenderbuffer(),De(v.__webglDepthbuffer,T,!1);else{const K=T.stencilBuffer?n.DEPTH_STENCIL_ATTACHMENT:n.DEPTH_ATTACHMENT,$=v.__webglDepthbuffer;n.bindRenderbuffer(n.RENDERBUFFER,$),n.framebufferRenderbuffer(n.FRAMEBUFFER,K,n.RENDERBUFFER,$)}}t.bindFramebuffer(n.FRAMEBUFFER,null)}function Ct(T,v,B){const X=i.get(T);v!==void 0&&pe(X.__webglFramebuffer,T,T.texture,n.COLOR_ATTACHMENT0,n.TEXTURE_2D,0),B!==void 0&&Ve(T)}function R(T){const v=T.texture,B=i.get(T),X=i.get(v);T.addEventListener("dispose",D);const K=T.textures,$=T.isWebGLCubeRenderTarget===!0,Me=K.length>1;if(Me||(X.__webglTexture===void 0&&(X.__webglTexture=n.createTexture()),X.__version=v.version,a.memory.textures++),$){B.__webglFramebuffer=[];for(let re=0;re<6;re++)if(v.mipmaps&&v.mipmaps.length>0){B.__webglFramebuffer[re]=[];for(let xe=0;xe<v.mipmaps.length;xe++)B.__webglFramebuffer[re][xe]=n.createFramebuffer()}else B.__webglFramebuffer[re]=n.createFramebuffer()}else{if(v.mipmaps&&v.mipmaps.length>0){B.__webglFramebuffer=[];for(let re=0;re<v.mipmaps.length;re++)B.__webglFramebuffer[re]=n.createFramebuffer()}else B.__webglFramebuffer=n.createFramebuffer();if(Me)for(let re=0,xe=K.length;re<xe;re++){const Se=i.get(K[re]);Se.__webglTexture===void 0&&(Se.__webglTexture=n.createTexture(),a.memory.textures++)}if(T.samples>0&&ve(T)===!1){B.__webglMultisampledFramebuffer=n.createFramebuffer(),B.__webglColorRenderbuffer=[],t.bindFramebuffer(n.FRAMEBUFFER,B.__webglMultisampledFramebuffer);for(let re=0;re<K.length;re++){const xe=K[re];B.__webglColorRenderbuffer[re]=n.createRenderbuffer(),n.bindRenderbuffer(n.RENDERBUFFER,B.__webglColorRenderbuffer[re]);const Se=s.convert(xe.format,xe.colorSpace),ne=s.convert(xe.type),ue=y(xe.internalFormat,Se,ne,xe.colorSpace,T.isXRRenderTarget===!0),Re=ot(T);n.renderbufferStorageMultisample(n.RENDERBUFFER,Re,ue,T.width,T.height),n.framebufferRenderbuffer(n.FRAMEBUFFER,n.COLOR_ATTACHMENT0+re,n.RENDERBUFFER,B.__webglColorRenderbuffer[re])}n.bindRenderbuffer(n.RENDERBUFFER,null),T.depthBuffer&&(B.__webglDepthRenderbuffer=n.createRenderbuffer(),De(B.__webglDepthRenderbuffer,T,!0)),t.bindFramebuffer(n.FRAMEBUFFER,null)}}if($){t.bindTexture(n.TEXTURE_CUBE_MAP,X.__webglTexture),ze(n.TEXTURE_CUBE_MAP,v);for(let re=0;re<6;re++)if(v.mipmaps&&v.mipmaps.length>0)for(let xe=0;xe<v.mipmaps.length;xe++)pe(B.__webglFramebuffer[re][xe],T,v,n.COLOR_ATTACHMENT0,n.TEXTURE_CUBE_MAP_POSITIVE_X+re,xe);else pe(B.__webglFramebuffer[re],T,v,n.COLOR_ATTACHMENT0,n.TEXTURE_CUBE_MAP_POSITIVE_X+re,0);m(v)&&f(n.TEXTURE_CUBE_MAP),t.unbindTexture()}else if(Me){for(let re=0,xe=K.length;re<xe;re++){const Se=K[re],ne=i.get(Se);let ue=n.TEXTURE_2D;(T.isWebGL3DRenderTarget||T.isWebGLArrayRenderTarget)&&(ue=T.isWebGL3DRenderTarget?n.TEXTURE_3D:n.TEXTURE_2D_ARRAY),t.bindTexture(ue,ne.__webglTexture),ze(ue,Se),pe(B.__webglFramebuffer,T,Se,n.COLOR_ATTACHMENT0+re,ue,0),m(Se)&&f(ue)}t.unbindTexture()}else{let re=n.TEXTURE_2D;if((T.isWebGL3DRenderTarget||T.isWebGLArrayRenderTarget)&&(re=T.isWebGL3DRenderTarget?n.TEXTURE_3D:n.TEXTURE_2D_ARRAY),t.bindTexture(re,X.__webglTexture),ze(re,v),v.mipmaps&&v.mipmaps.length>0)for(let xe=0;xe<v.mipmaps.length;xe++)pe(B.__webglFramebuffer[xe],T,v,n.COLOR_ATTACHMENT0,re,xe);else pe(B.__webglFramebuffer,T,v,n.COLOR_ATTACHMENT0,re,0);m(v)&&f(re),t.unbindTexture()}T.depthBuffer&&Ve(T)}function at(T){const v=T.textures;for(let B=0,X=v.length;B<X;B++){const K=v[B];if(m(K)){const $=E(T),Me=i.get(K).__webglTexture;t.bindTexture($,Me),f($),t.unbindTexture()}}}const Ne=[],Ce=[];function _e(T){if(T.samples>0){if(ve(T)===!1){const v=T.textures,B=T.width,X=T.height;let K=n.COLOR_BUFFER_BIT;const $=T.stencilBuffer?n.DEPTH_STENCIL_ATTACHMENT:n.DEPTH_ATTACHMENT,Me=i.get(T),re=v.length>1;if(re)for(let Se=0;Se<v.length;Se++)t.bindFramebuffer(n.FRAMEBUFFER,Me.__webglMultisampledFramebuffer),n.framebufferRenderbuffer(n.FRAMEBUFFER,n.COLOR_ATTACHMENT0+Se,n.RENDERBUFFER,null),t.bindFramebuffer(n.FRAMEBUFFER,Me.__webglFramebuffer),n.framebufferTexture2D(n.DRAW_FRAMEBUFFER,n.COLOR_ATTACHMENT0+Se,n.TEXTURE_2D,null,0);t.bindFramebuffer(n.READ_FRAMEBUFFER,Me.__webglMultisampledFramebuffer);const xe=T.texture.mipmaps;xe&&xe.length>0?t.bindFramebuffer(n.DRAW_FRAMEBUFFER,Me.__webglFramebuffer[0]):t.bindFramebuffer(n.DRAW_FRAMEBUFFER,Me.__webglFramebuffer);for(let Se=0;Se<v.length;Se++){if(T.resolveDepthBuffer&&(T.depthBuffer&&(K|=n.DEPTH_BUFFER_BIT),T.stencilBuffer&&T.resolveStencilBuffer&&(K|=n.STENCIL_BUFFER_BIT)),re){n.framebufferRenderbuffer(n.READ_FRAMEBUFFER,n.COLOR_ATTACHMENT0,n.RENDERBUFFER,Me.__webglColorRenderbuffer[Se]);const ne=i.get(v[Se]).__webglTexture;n.framebufferTexture2D(n.DRAW_FRAMEBUFFER,n.COLOR_ATTACHMENT0,n.TEXTURE_2D,ne,0)}n.blitFramebuffer(0,0,B,X,0,0,B,X,K,n.NEAREST),l===!0&&(Ne.length=0,Ce.length=0,Ne.push(n.COLOR_ATTACHMENT0+Se),T.depthBuffer&&T.resolveDepthBuffer===!1&&(Ne.push($),Ce.push($),n.invalidateFramebuffer(n.DRAW_FRAMEBUFFER,Ce)),n.invalidateFramebuffer(n.READ_FRAMEBUFFER,Ne))}if(t.bindFramebuffer(n.READ_FRAMEBUFFER,null),t.bindFramebuffer(n.DRAW_FRAMEBUFFER,null),re)for(let Se=0;Se<v.length;Se++){t.bindFramebuffer(n.FRAMEBUFFER,Me.__webglMultisampledFramebuffer),n.framebufferRenderbuffer(n.FRAMEBUFFER,n.COLOR_ATTACHMENT0+Se,n.RENDERBUFFER,Me.__webglColorRenderbuffer[Se]);const ne=i.get(v[Se]).__webglTexture;t.bindFramebuffer(n.FRAMEBUFFER,Me.__webglFramebuffer),n.framebufferTexture2D(n.DRAW_FRAMEBUFFER,n.COLOR_ATTACHMENT0+Se,n.TEXTURE_2D,ne,0)}t.bindFramebuffer(n.DRAW_FRAMEBUFFER,Me.__webglMultisampledFramebuffer)}else if(T.depthBuffer&&T.resolveDepthBuffer===!1&&l){const v=T.stencilBuffer?n.DEPTH_STENCIL_ATTACHMENT:n.DEPTH_ATTACHMENT;n.invalidateFramebuffer(n.DRAW_FRAMEBUFFER,[v])}}}function ot(T){return Math.min(r.maxSamples,T.samples)}function ve(T){const v=i.get(T);return T.samples>0&&e.has("WEBGL_multisampled_render_to_texture")===!0&&v.__useRenderToTexture!==!1}function Oe(T){const v=a.render.frame;u.get(T)!==v&&(u.set(T,v),T.update())}function Mt(T,v){const B=T.colorSpace,X=T.format,K=T.type;return T.isCompressedTexture===!0||T.isVideoTexture===!0||B!==hi&&B!==Hn&&(Ge.getTransfer(B)===je?(X!==rn||K!==Mn)&&console.warn("THREE.WebGLTextures: sRGB encoded textures have to use RGBAFormat and UnsignedByteType."):console.error("THREE.WebGLTextures: Unsupported texture color space:",B)),v}function ft(T){return typeof HTMLImageElement<"u"&&T instanceof HTMLImageElement?(c.width=T.naturalWidth||T.width,c.height=T.naturalHeight||T.height):typeof VideoFrame<"u"&&T instanceof VideoFrame?(c.width=T.displayWidth,c.height=T.displayHeight):(c.width=T.width,c.height=T.height),c}this.allocateTextureUnit=G,this.resetTextureUnits=k,this.setTexture2D=Y,this.setTexture2DArray=q,this.setTexture3D=te,this.setTextureCube=V,this.rebindTextures=Ct,this.setupRenderTarget=R,this.updateRenderTargetMipmap=at,this.updateMultisampleRenderTarget=_e,this.setupDepthRenderbuffer=Ve,this.setupFrameBufferTexture=pe,this.useMultisampledRTT=ve}function QS(n,e){function t(i,r=Hn){let s;const a=Ge.getTransfer(r);if(i===Mn)return n.UNSIGNED_BYTE;if(i===$o)return n.UNSIGNED_SHORT_4_4_4_4;if(i===Xo)return n.UNSIGNED_SHORT_5_5_5_1;if(i===nd)return n.UNSIGNED_INT_5_9_9_9_REV;if(i===id)return n.UNSIGNED_INT_10F_11F_11F_REV;if(i===ed)return n.BYTE;if(i===td)return n.SHORT;if(i===Pr)return n.UNSIGNED_SHORT;if(i===Wo)return n.INT;if(i===ci)return n.UNSIGNED_INT;if(i===wn)return n.FLOAT;if(i===Dr)return n.HALF_FLOAT;if(i===rd)return n.ALPHA;if(i===sd)return n.RGB;if(i===rn)return n.RGBA;if(i===Nr)return n.DEPTH_COMPONENT;if(i===Ur)return n.DEPTH_STENCIL;if(i===ad)return n.RED;if(i===qo)return n.RED_INTEGER;if(i===od)return n.RG;if(i===Yo)return n.RG_INTEGER;if(i===jo)return n.RGBA_INTEGER;if(i===Fs||i===Os||i===Bs||i===zs)if(a===je)if(s=e.get("WEBGL_compressed_texture_s3tc_srgb"),s!==null){if(i===Fs)return s.COMPRESSED_SRGB_S3TC_DXT1_EXT;if(i===Os)return s.COMPRESSED_SRGB_ALPHA_S3TC_DXT1_EXT;if(i===Bs)return s.COMPRESSED_SRGB_ALPHA_S3TC_DXT3_EXT;if(i===zs)return s.COMPRESSED_SRGB_ALPHA_S3TC_DXT5_EXT}else return null;else if(s=e.get("WEBGL_compressed_texture_s3tc"),s!==null){if(i===Fs)return s.COMPRESSED_RGB_S3TC_DXT1_EXT;if(i===Os)return s.COMPRESSED_RGBA_S3TC_DXT1_EXT;if(i===Bs)return s.COMPRESSED_RGBA_S3TC_DXT3_EXT;if(i===zs)return s.COMPRESSED_RGBA_S3TC_DXT5_EXT}else return null;if(i===Zo||i===Ko||i===Jo||i===Qo)if(s=e.get("WEBGL_compressed_texture_pvrtc"),s!==null){if(i===Zo)return s.COMPRESSED_RGB_PVRTC_4BPPV1_IMG;if(i===Ko)return s.COMPRESSED_RGB_PVRTC_2BPPV1_IMG;if(i===Jo)return s.COMPRESSED_RGBA_PVRTC_4BPPV1_IMG;if(i===Qo)return s.COMPRESSED_RGBA_PVRTC_2BPPV1_IMG}else return null;if(i===el||i===tl||i===nl)if(s=e.get("WEBGL_compressed_texture_etc"),s!==null){if(i===el||i===tl)return a===je?s.COMPRESSED_SRGB8_ETC2:s.COMPRESSED_RGB8_ETC2;if(i===nl)return a===je?s.COMPRESSED_SRGB8_ALPHA8_ETC2_EAC:s.COMPRESSED_RGBA8_ETC2_EAC}else return null;if(i===il||i===rl||i===sl||i===al||i===ol||i===ll||i===cl||i===hl||i===ul||i===dl||i===fl||i===pl||i===ml||i===gl)if(s=e.get("WEBGL_compressed_texture_astc"),s!==null){if(i===il)return a===je?s.COMPRESSED_SRGB8_ALPHA8_ASTC_4x4_KHR:s.COMPRESSED_RGBA_ASTC_4x4_KHR;if(i===rl)return a===je?s.COMPRESSED_SRGB8_ALPHA8_ASTC_5x4_KHR:s.COMPRESSED_RGBA_ASTC_5x4_KHR;if(i===sl)return a===je?s.COMPRESSED_SRGB8_ALPHA8_ASTC_5x5_KHR:s.COMPRESSED_RGBA_ASTC_5x5_KHR;if(i===al)return a===je?s.COMPRESSED_SRGB8_ALPHA8_ASTC_6x5_KHR:s.COMPRESSED_RGBA_ASTC_6x5_KHR;if(i===ol)return a===je?s.COMPRESSED_SRGB8_ALPHA8_ASTC_6x6_KHR:s.COMPRESSED_RGBA_ASTC_6x6_KHR;if(i===ll)return a===je?s.COMPRESSED_SRGB8_ALPHA8_ASTC_8x5_KHR:s.COMPRESSED_RGBA_ASTC_8x5_KHR;if(i===cl)return a===je?s.COMPRESSED_SRGB8_ALPHA8_ASTC_8x6_KHR:s.COMPRESSED_RGBA_ASTC_8x6_KHR;if(i===hl)return a===je?s.COMPRESSED_SRGB8_ALPHA8_ASTC_8x8_KHR:s.COMPRESSED_RGBA_ASTC_8x8_KHR;if(i===ul)return a===je?s.COMPRESSED_SRGB8_ALPHA8_ASTC_10x5_KHR:s.COMPRESSED_RGBA_ASTC_10x5_KHR;if(i===dl)return a===je?s.COMPRESSED_SRGB8_ALPHA8_ASTC_10x6_KHR:s.COMPRESSED_RGBA_ASTC_10x6_KHR;if(i===fl)return a===je?s.COMPRESSED_SRGB8_ALPHA8_ASTC_10x8_KHR:s.COMPRESSED_RGBA_ASTC_10x8_KHR;if(i===pl)return a===je?s.COMPRESSED_SRGB8_ALPHA8_ASTC_10x10_KHR:s.COMPRESSED_RGBA_ASTC_10x10_KHR;if(i===ml)return a===je?s.COMPRESSED_SRGB8_ALPHA8_ASTC_12x10_KHR:s.COMPRESSED_RGBA_ASTC_12x10_KHR;if(i===gl)return a===je?s.COMPRESSED_SRGB8_ALPHA8_ASTC_12x12_KHR:s.COMPRESSED_RGBA_ASTC_12x12_KHR}else return null;if(i===_l||i===vl||i===xl)if(s=e.get("EXT_texture_compression_bptc"),s!==null){if(i===_l)return a===je?s.COMPRESSED_SRGB_ALPHA_BPTC_UNORM_EXT:s.COMPRESSED_RGBA_BPTC_UNORM_EXT;if(i===vl)return s.COMPRESSED_RGB_BPTC_SIGNED_FLOAT_EXT;if(i===xl)return s.COMPRESSED_RGB_BPTC_UNSIGNED_FLOAT_EXT}else return null;if(i===Sl||i===bl||i===Ml||i===wl)if(s=e.get("EXT_texture_compression_rgtc"),s!==null){if(i===Sl)return s.COMPRESSED_RED_RGTC1_EXT;if(i===bl)return s.COMPRESSED_SIGNED_RED_RGTC1_EXT;if(i===Ml)return s.COMPRESSED_RED_GREEN_RGTC2_EXT;if(i===wl)return s.COMPRESSED_SIGNED_RED_GREEN_RGTC2_EXT}else return null;return i===Lr?n.UNSIGNED_INT_24_8:n[i]!==void 0?n[i]:null}return{convert:t}}const eb=`
void main() {

	gl_Position = vec4( position, 1.0 );

}`,tb=`
uniform sampler2DArray depthColor;
uniform float depthWidth;
uniform float depthHeight;

void main() {

	vec2 coord = vec2( gl_FragCoord.x / depthWidth, gl_FragCoord.y / depthHeight );

	if ( coord.x >= 1.0 ) {

		gl_FragDepth = texture( depthColor, vec3( coord.x - 1.0, coord.y, 1 ) ).r;

	} else {

		gl_FragDepth = texture( depthColor, vec3( coord.x, coord.y, 0 ) ).r;

	}

}`;class nb{constructor(){this.texture=null,this.mesh=null,this.depthNear=0,this.depthFar=0}init(e,t){if(this.texture===null){const i=new Wd(e.texture);(e.depthNear!==t.depthNear||e.depthFar!==t.depthFar)&&(this.depthNear=e.depthNear,this.depthFar=e.depthFar),this.texture=i}}getMesh(e){if(this.texture!==null&&this.mesh===null){const t=e.cameras[0].viewport,i=new qn({vertexShader:eb,fragmentShader:tb,uniforms:{depthColor:{value:this.texture},depthWidth:{value:t.z},depthHeight:{value:t.w}}});this.mesh=new hn(new pa(20,20),i)}return this.mesh}reset(){this.texture=null,this.mesh=null}getDepthTexture(){return this.texture}}class ib extends ui{constructor(e,t){super();const i=this;let r=null,s=1,a=null,o="local-floor",l=1,c=null,u=null,d=null,h=null,p=null,g=null;const _=typeof XRWebGLBinding<"u",m=new nb,f={},E=t.getContextAttributes();let y=null,M=null;const C=[],A=[],D=new ke;let F=null;const w=new jt;w.viewport=new ut;const b=new jt;b.viewport=new ut;const P=[w,b],k=new n0;let G=null,W=null;this.cameraAutoUpdate=!0,this.enabled=!1,this.isPresenting=!1,this.getController=function(j){let J=C[j];return J===void 0&&(J=new Yl,C[j]=J),J.getTargetRaySpace()},this.getControllerGrip=function(j){let J=C[j];return J===void 0&&(J=new Yl,C[j]=J),J.getGripSpace()},this.getHand=function(j){let J=C[j];return J===void 0&&(J=new Yl,C[j]=J),J.getHandSpace()};function Y(j){const J=A.indexOf(j.inputSource);if(J===-1)return;const pe=C[J];pe!==void 0&&(pe.update(j.inputSource,j.frame,c||a),pe.dispatchEvent({type:j.type,data:j.inputSource}))}function q(){r.removeEventListener("select",Y),r.removeEventListener("selectstart",Y),r.removeEventListener("selectend",Y),r.removeEventListener("squeeze",Y),r.removeEventListener("squeezestart",Y),r.removeEventListener("squeezeend",Y),r.removeEventListener("end",q),r.removeEventListener("inputsourceschange",te);for(let j=0;j<C.length;j++){const J=A[j];J!==null&&(A[j]=null,C[j].disconnect(J))}G=null,W=null,m.reset();for(const j in f)delete f[j];e.setRenderTarget(y),p=null,h=null,d=null,r=null,M=null,qe.stop(),i.isPresenting=!1,e.setPixelRatio(F),e.setSize(D.width,D.height,!1),i.dispatchEvent({type:"sessionend"})}this.setFramebufferScaleFactor=function(j){s=j,i.isPresenting===!0&&console.warn("THREE.WebXRManager: Cannot change framebuffer scale while presenting.")},this.setReferenceSpaceType=function(j){o=j,i.isPresenting===!0&&console.warn("THREE.WebXRManager: Cannot change reference space type while presenting.")},this.getReferenceSpace=function(){return c||a},this.setReferenceSpace=function(j){c=j},this.getBaseLayer=function(){return h!==null?h:p},this.getBinding=function(){return d===null&&_&&(d=new XRWebGLBinding(r,t)),d},this.getFrame=function(){return g},this.getSession=function(){return r},this.setSession=async function(j){if(r=j,r!==null){if(y=e.getRenderTarget(),r.addEventListener("select",Y),r.addEventListener("selectstart",Y),r.addEventListener("selectend",Y),r.addEventListener("squeeze",Y),r.addEventListener("squeezestart",Y),r.addEventListener("squeezeend",Y),r.addEventListener("end",q),r.addEventListener("inputsourceschange",te),E.xrCompatible!==!0&&await t.makeXRCompatible(),F=e.getPixelRatio(),e.getSize(D),_&&"createProjectionLayer"in XRWebGLBinding.prototype){let pe=null,De=null,we=null;E.depth&&(we=E.stencil?t.DEPTH24_STENCIL8:t.DEPTH_COMPONENT24,pe=E.stencil?Ur:Nr,De=E.stencil?Lr:ci);const Ve={colorFormat:t.RGBA8,depthFormat:we,scaleFactor:s};d=this.getBinding(),h=d.createProjectionLayer(Ve),r.updateRenderState({layers:[h]}),e.setPixelRatio(1),e.setSize(h.textureWidth,h.textureHeight,!1),M=new fi(h.textureWidth,h.textureHeight,{format:rn,type:Mn,depthTexture:new Gd(h.textureWidth,h.textureHeight,De,void 0,void 0,void 0,void 0,void 0,void 0,pe),stencilBuffer:E.stencil,colorSpace:e.outputColorSpace,samples:E.antialias?4:0,resolveDepthBuffer:h.ignoreDepthValues===!1,resolveStencilBuffer:h.ignoreDepthValues===!1})}else{const pe={antialias:E.antialias,alpha:!0,depth:E.depth,stencil:E.stencil,framebufferScaleFactor:s};p=new XRWebGLLayer(r,t,pe),r.updateRenderState({baseLayer:p}),e.setPixelRatio(1),e.setSize(p.framebufferWidth,p.framebufferHeight,!1),M=new fi(p.framebufferWidth,p.framebufferHeight,{format:rn,type:Mn,colorSpace:e.outputColorSpace,stencilBuffer:E.stencil,resolveDepthBuffer:p.ignoreDepthValues===!1,resolveStencilBuffer:p.ignoreDepthValues===!1})}M.isXRRenderTarget=!0,this.setFoveation(l),c=null,a=await r.requestReferenceSpace(o),qe.setContext(r),qe.start(),i.isPresenting=!0,i.dispatchEvent({type:"sessionstart"})}},this.getEnvironmentBlendMode=function(){if(r!==null)return r.environmentBlendMode},this.getDepthTexture=function(){return m.getDepthTexture()};function te(j){for(let J=0;J<j.removed.length;J++){const pe=j.removed[J],De=A.indexOf(pe);De>=0&&(A[De]=null,C[De].disconnect(pe))}for(let J=0;J<j.added.length;J++){const pe=j.added[J];let De=A.indexOf(pe);if(De===-1){for(let Ve=0;Ve<C.length;Ve++)if(Ve>=A.length){A.push(pe),De=Ve;break}else if(A[Ve]===null){A[Ve]=pe,De=Ve;break}if(De===-1)break}const we=C[De];we&&we.connect(pe)}}const V=new O,se=new O;function oe(j,J,pe){V.setFromMatrixPosition(J.matrixWorld),se.setFromMatrixPosition(pe.matrixWorld);const De=V.distanceTo(se),we=J.projectionMatrix.elements,Ve=pe.projectionMatrix.elements,Ct=we[14]/(we[10]-1),R=we[14]/(we[10]+1),at=(we[9]+1)/we[5],Ne=(we[9]-1)/we[5],Ce=(we[8]-1)/we[0],_e=(Ve[8]+1)/Ve[0],ot=Ct*Ce,ve=Ct*_e,Oe=De/(-Ce+_e),Mt=Oe*-Ce;if(J.matrixWorld.decompose(j.position,j.quaternion,j.scale),j.translateX(Mt),j.translateZ(Oe),j.matrixWorld.compose(j.position,j.quaternion,j.scale),j.matrixWorldInverse.copy(j.matrixWorld).invert(),we[10]===-1)j.projectionMatrix.copy(J.projectionMatrix),j.projectionMatrixInverse.copy(J.projectionMatrixInverse);else{const ft=Ct+Oe,T=R+Oe,v=ot-Mt,B=ve+(De-Mt),X=at*R/T*ft,K=Ne*R/T*ft;j.projectionMatrix.makePerspective(v,B,X,K,ft,T),j.projectionMatrixInverse.copy(j.projectionMatrix).invert()}}function ye(j,J){J===null?j.matrixWorld.copy(j.matrix):j.matrixWorld.multiplyMatrices(J.matrixWorld,j.matrix),j.matrixWorldInverse.copy(j.matrixWorld).invert()}this.updateCamera=function(j){if(r===null)return;let J=j.near,pe=j.far;m.texture!==null&&(m.depthNear>0&&(J=m.depthNear),m.depthFar>0&&(pe=m.depthFar)),k.near=b.near=w.near=J,k.far=b.far=w.far=pe,(G!==k.near||W!==k.far)&&(r.updateRenderState({depthNear:k.near,depthFar:k.far}),G=k.near,W=k.far),k.layers.mask=j.layers.mask|6,w.layers.mask=k.layers.mask&3,b.layers.mask=k.layers.mask&5;const De=j.parent,we=k.cameras;ye(k,De);for(let Ve=0;Ve<we.length;Ve++)ye(we[Ve],De);we.length===2?oe(k,w,b):k.projectionMatrix.copy(w.projectionMatrix),ze(j,k,De)};function ze(j,J,pe){pe===null?j.matrix.copy(J.matrixWorld):(j.matrix.copy(pe.matrixWorld),j.matrix.invert(),j.matrix.multiply(J.matrixWorld)),j.matrix.decompose(j.position,j.quaternion,j.scale),j.updateMatrixWorld(!0),j.projectionMatrix.copy(J.projectionMatrix),j.projectionMatrixInverse.copy(J.projectionMatrixInverse),j.isPerspectiveCamera&&(j.fov=yl*2*Math.atan(1/j.projectionMatrix.elements[5]),j.zoom=1)}this.getCamera=function(){return k},this.getFoveation=function(){if(!(h===null&&p===null))return l},this.setFoveation=function(j){l=j,h!==null&&(h.fixedFoveation=j),p!==null&&p.fixedFoveation!==void 0&&(p.fixedFoveation=j)},this.hasDepthSensing=function(){return m.texture!==null},this.getDepthSensingMesh=function(){return m.getMesh(k)},this.getCameraTexture=function(j){return f[j]};let Qe=null;function st(j,J){if(u=J.getViewerPose(c||a),g=J,u!==null){const pe=u.views;p!==null&&(e.setRenderTargetFramebuffer(M,p.framebuffer),e.setRenderTarget(M));let De=!1;pe.length!==k.cameras.length&&(k.cameras.length=0,De=!0);for(let R=0;R<pe.length;R++){const at=pe[R];let Ne=null;if(p!==null)Ne=p.getViewport(at);else{const _e=d.getViewSubImage(h,at);Ne=_e.viewport,R===0&&(e.setRenderTargetTextures(M,_e.colorTexture,_e.depthStencilTexture),e.setRenderTarget(M))}let Ce=P[R];Ce===void 0&&(Ce=new jt,Ce.layers.enable(R),Ce.viewport=new ut,P[R]=Ce),Ce.matrix.fromArray(at.transform.matrix),Ce.matrix.decompose(Ce.position,Ce.quaternion,Ce.scale),Ce.projectionMatrix.fromArray(at.projectionMatrix),Ce.projectionMatrixInverse.copy(Ce.projectionMatrix).invert(),Ce.viewport.set(Ne.x,Ne.y,Ne.width,Ne.height),R===0&&(k.matrix.copy(Ce.matrix),k.matrix.decompose(k.position,k.quaternion,k.scale)),De===!0&&k.cameras.push(Ce)}const we=r.enabledFeatures;if(we&&we.includes("depth-sensing")&&r.depthUsage=="gpu-optimized"&&_){d=i.getBinding();const R=d.getDepthInformation(pe[0]);R&&R.isValid&&R.texture&&m.init(R,r.renderState)}if(we&&we.includes("camera-access")&&_){e.state.unbindTexture(),d=i.getBinding();for(let R=0;R<pe.length;R++){const at=pe[R].camera;if(at){let Ne=f[at];Ne||(Ne=new Wd,f[at]=Ne);const Ce=d.getCameraImage(at);Ne.sourceTexture=Ce}}}}for(let pe=0;pe<C.length;pe++){const De=A[pe],we=C[pe];De!==null&&we!==void 0&&we.update(De,J,c||a)}Qe&&Qe(j,J),J.detectedPlanes&&i.dispatchEvent({type:"planesdetected",data:J}),g=null}const qe=new jd;qe.setAnimationLoop(st),this.setAnimationLoop=function(j){Qe=j},this.dispose=function(){}}}const bi=new An,rb=new dt;function sb(n,e){function t(m,f){m.matrixAutoUpdate===!0&&m.updateMatrix(),f.value.copy(m.matrix)}function i(m,f){f.color.getRGB(m.fogColor.value,Ld(n)),f.isFog?(m.fogNear.value=f.near,m.fogFar.value=f.far):f.isFogExp2&&(m.fogDensity.value=f.density)}function r(m,f,E,y,M){f.isMeshBasicMaterial||f.isMeshLambertMaterial?s(m,f):f.isMeshToonMaterial?(s(m,f),d(m,f)):f.isMeshPhongMaterial?(s(m,f),u(m,f)):f.isMeshStandardMaterial?(s(m,f),h(m,f),f.isMeshPhysicalMaterial&&p(m,f,M)):f.isMeshMatcapMaterial?(s(m,f),g(m,f)):f.isMeshDepthMaterial?s(m,f):f.isMeshDistanceMaterial?(s(m,f),_(m,f)):f.isMeshNormalMaterial?s(m,f):f.isLineBasicMaterial?(a(m,f),f.isLineDashedMaterial&&o(m,f)):f.isPointsMaterial?l(m,f,E,y):f.isSpriteMaterial?c(m,f):f.isShadowMaterial?(m.color.value.copy(f.color),m.opacity.value=f.opacity):f.isShaderMaterial&&(f.uniformsNeedUpdate=!1)}function s(m,f){m.opacity.value=f.opacity,f.color&&m.diffuse.value.copy(f.color),f.emissive&&m.emissive.value.copy(f.emissive).multiplyScalar(f.emissiveIntensity),f.map&&(m.map.value=f.map,t(f.map,m.mapTransform)),f.alphaMap&&(m.alphaMap.value=f.alphaMap,t(f.alphaMap,m.alphaMapTransform)),f.bumpMap&&(m.bumpMap.value=f.bumpMap,t(f.bumpMap,m.bumpMapTransform),m.bumpScale.value=f.bumpScale,f.side===It&&(m.bumpScale.value*=-1)),f.normalMap&&(m.normalMap.value=f.normalMap,t(f.normalMap,m.normalMapTransform),m.normalScale.value.copy(f.normalScale),f.side===It&&m.normalScale.value.negate()),f.displacementMap&&(m.displacementMap.value=f.displacementMap,t(f.displacementMap,m.displacementMapTransform),m.displacementScale.value=f.displacementScale,m.displacementBias.value=f.displacementBias),f.emissiveMap&&(m.emissiveMap.value=f.emissiveMap,t(f.emissiveMap,m.emissiveMapTransform)),f.specularMap&&(m.specularMap.value=f.specularMap,t(f.specularMap,m.specularMapTransform)),f.alphaTest>0&&(m.alphaTest.value=f.alphaTest);const E=e.get(f),y=E.envMap,M=E.envMapRotation;y&&(m.envMap.value=y,bi.copy(M),bi.x*=-1,bi.y*=-1,bi.z*=-1,y.isCubeTexture&&y.isRenderTargetTexture===!1&&(bi.y*=-1,bi.z*=-1),m.envMapRotation.value.setFromMatrix4(rb.makeRotationFromEuler(bi)),m.flipEnvMap.value=y.isCubeTexture&&y.isRenderTargetTexture===!1?-1:1,m.reflectivity.value=f.reflectivity,m.ior.value=f.ior,m.refractionRatio.value=f.refractionRatio),f.lightMap&&(m.lightMap.value=f.lightMap,m.lightMapIntensity.value=f.lightMapIntensity,t(f.lightMap,m.lightMapTransform)),f.aoMap&&(m.aoMap.value=f.aoMap,m.aoMapIntensity.value=f.aoMapIntensity,t(f.aoMap,m.aoMapTransform))}function a(m,f){m.diffuse.value.copy(f.color),m.opacity.value=f.opacity,f.map&&(m.map.value=f.map,t(f.map,m.mapTransform))}function o(m,f){m.dashSize.value=f.dashSize,m.totalSize.value=f.dashSize+f.gapSize,m.scale.value=f.scale}function l(m,f,E,y){m.diffuse.value.copy(f.color),m.opacity.value=f.opacity,m.size.value=f.size*E,m.scale.value=y*.5,f.map&&(m.map.value=f.map,t(f.map,m.uvTransform)),f.alphaMap&&(m.alphaMap.value=f.alphaMap,t(f.alphaMap,m.alphaMapTransform)),f.alphaTest>0&&(m.alphaTest.value=f.alphaTest)}function c(m,f){m.diffuse.value.copy(f.color),m.opacity.value=f.opacity,m.rotation.value=f.rotation,f.map&&(m.map.value=f.map,t(f.map,m.mapTransform)),f.alphaMap&&(m.alphaMap.value=f.alphaMap,t(f.alphaMap,m.alphaMapTransform)),f.alphaTest>0&&(m.alphaTest.value=f.alphaTest)}function u(m,f){m.specular.value.copy(f.specular),m.shininess.value=Math.max(f.shininess,1e-4)}function d(m,f){f.gradientMap&&(m.gradientMap.value=f.gradientMap)}function h(m,f){m.metalness.value=f.metalness,f.metalnessMap&&(m.metalnessMap.value=f.metalnessMap,t(f.metalnessMap,m.metalnessMapTransform)),m.roughness.value=f.roughness,f.roughnessMap&&(m.roughnessMap.value=f.roughnessMap,t(f.roughnessMap,m.roughnessMapTransform)),f.envMap&&(m.envMapIntensity.value=f.envMapIntensity)}function p(m,f,E){m.ior.value=f.ior,f.sheen>0&&(m.sheenColor.value.copy(f.sheenColor).multiplyScalar(f.sheen),m.sheenRoughness.value=f.sheenRoughness,f.sheenColorMap&&(m.sheenColorMap.value=f.sheenColorMap,t(f.sheenColorMap,m.sheenColorMapTransform)),f.sheenRoughnessMap&&(m.sheenRoughnessMap.value=f.sheenRoughnessMap,t(f.sheenRoughnessMap,m.sheenRoughnessMapTransform))),f.clearcoat>0&&(m.clearcoat.value=f.clearcoat,m.clearcoatRoughness.value=f.clearcoatRoughness,f.clearcoatMap&&(m.clearcoatMap.value=f.clearcoatMap,t(f.clearcoatMap,m.clearcoatMapTransform)),f.clearcoatRoughnessMap&&(m.clearcoatRoughnessMap.value=f.clearcoatRoughnessMap,t(f.clearcoatRoughnessMap,m.clearcoatRoughnessMapTransform)),f.clearcoatNormalMap&&(m.clearcoatNormalMap.value=f.clearcoatNormalMap,t(f.clearcoatNormalMap,m.clearcoatNormalMapTransform),m.clearcoatNormalScale.value.copy(f.clearcoatNormalScale),f.side===It&&m.clearcoatNormalScale.value.negate())),f.dispersion>0&&(m.dispersion.value=f.dispersion),f.iridescence>0&&(m.iridescence.value=f.iridescence,m.iridescenceIOR.value=f.iridescenceIOR,m.iridescenceThicknessMinimum.value=f.iridescenceThicknessRange[0],m.iridescenceThicknessMaximum.value=f.iridescenceThicknessRange[1],f.iridescenceMap&&(m.iridescenceMap.value=f.iridescenceMap,t(f.iridescenceMap,m.iridescenceMapTransform)),f.iridescenceThicknessMap&&(m.iridescenceThicknessMap.value=f.iridescenceThicknessMap,t(f.iridescenceThicknessMap,m.iridescenceThicknessMapTransform))),f.transmission>0&&(m.transmission.value=f.transmission,m.transmissionSamplerMap.value=E.texture,m.transmissionSamplerSize.value.set(E.width,E.height),f.transmissionMap&&(m.transmissionMap.value=f.transmissionMap,t(f.transmissionMap,m.transmissionMapTransform)),m.thickness.value=f.thickness,f.thicknessMap&&(m.thicknessMap.value=f.thicknessMap,t(f.thicknessMap,m.thicknessMapTransform)),m.attenuationDistance.value=f.attenuationDistance,m.attenuationColor.value.copy(f.attenuationColor)),f.anisotropy>0&&(m.anisotropyVector.value.set(f.anisotropy*Math.cos(f.anisotropyRotation),f.anisotropy*Math.sin(f.anisotropyRotation)),f.anisotropyMap&&(m.anisotropyMap.value=f.anisotropyMap,t(f.anisotropyMap,m.anisotropyMapTransform))),m.specularIntensity.value=f.specularIntensity,m.specularColor.value.copy(f.specularColor),f.specularColorMap&&(m.specularColorMap.value=f.specularColorMap,t(f.specularColorMap,m.specularColorMapTransform)),f.specularIntensityMap&&(m.specularIntensityMap.value=f.specularIntensityMap,t(f.specularIntensityMap,m.specularIntensityMapTransform))}function g(m,f){f.matcap&&(m.matcap.value=f.matcap)}function _(m,f){const E=e.get(f).light;m.referencePosition.value.setFromMatrixPosition(E.matrixWorld),m.nearDistance.value=E.shadow.camera.near,m.farDistance.value=E.shadow.camera.far}return{refreshFogUniforms:i,refreshMaterialUniforms:r}}function ab(n,e,t,i){let r={},s={},a=[];const o=n.getParameter(n.MAX_UNIFORM_BUFFER_BINDINGS);function l(E,y){const M=y.program;i.uniformBlockBinding(E,M)}function c(E,y){let M=r[E.id];M===void 0&&(g(E),M=u(E),r[E.id]=M,E.addEventListener("dispose",m));const C=y.program;i.updateUBOMapping(E,C);const A=e.render.frame;s[E.id]!==A&&(h(E),s[E.id]=A)}function u(E){const y=d();E.__bindingPointIndex=y;const M=n.createBuffer(),C=E.__size,A=E.usage;return n.bindBuffer(n.UNIFORM_BUFFER,M),n.bufferData(n.UNIFORM_BUFFER,C,A),n.bindBuffer(n.UNIFORM_BUFFER,null),n.bindBufferBase(n.UNIFORM_BUFFER,y,M),M}function d(){for(let E=0;E<o;E++)if(a.indexOf(E)===-1)return a.push(E),E;return console.error("THREE.WebGLRenderer: Maximum number of simultaneously usable uniforms groups reached."),0}function h(E){const y=r[E.id],M=E.uniforms,C=E.__cache;n.bindBuffer(n.UNIFORM_BUFFER,y);for(let A=0,D=M.length;A<D;A++){const F=Array.isArray(M[A])?M[A]:[M[A]];for(let w=0,b=F.length;w<b;w++){const P=F[w];if(p(P,A,w,C)===!0){const k=P.__offset,G=Array.isArray(P.value)?P.value:[P.value];let W=0;for(let Y=0;Y<G.length;Y++){const q=G[Y],te=_(q);typeof q=="number"||typeof q=="boolean"?(P.__data[0]=q,n.bufferSubData(n.UNIFORM_BUFFER,k+W,P.__data)):q.isMatrix3?(P.__data[0]=q.elements[0],P.__data[1]=q.elements[1],P.__data[2]=q.elements[2],P.__data[3]=0,P.__data[4]=q.elements[3],P.__data[5]=q.elements[4],P.__data[6]=q.elements[5],P.__data[7]=0,P.__data[8]=q.elements[6],P.__data[9]=q.elements[7],P.__data[10]=q.elements[8],P.__data[11]=0):(q.toArray(P.__data,W),W+=te.storage/Float32Array.BYTES_PER_ELEMENT)}n.bufferSubData(n.UNIFORM_BUFFER,k,P.__data)}}}n.bindBuffer(n.UNIFORM_BUFFER,null)}function p(E,y,M,C){const A=E.value,D=y+"_"+M;if(C[D]===void 0)return typeof A=="number"||typeof A=="boolean"?C[D]=A:C[D]=A.clone(),!0;{const F=C[D];if(typeof A=="number"||typeof A=="boolean"){if(F!==A)return C[D]=A,!0}else if(F.equals(A)===!1)return F.copy(A),!0}return!1}function g(E){const y=E.uniforms;let M=0;const C=16;for(let D=0,F=y.length;D<F;D++){const w=Array.isArray(y[D])?y[D]:[y[D]];for(let b=0,P=w.length;b<P;b++){const k=w[b],G=Array.isArray(k.value)?k.value:[k.value];for(let W=0,Y=G.length;W<Y;W++){const q=G[W],te=_(q),V=M%C,se=V%te.boundary,oe=V+se;M+=se,oe!==0&&C-oe<te.storage&&(M+=C-oe),k.__data=new Float32Array(te.storage/Float32Array.BYTES_PER_ELEMENT),k.__offset=M,M+=te.storage}}}const A=M%C;return A>0&&(M+=C-A),E.__size=M,E.__cache={},this}function _(E){const y={boundary:0,storage:0};return typeof E=="number"||typeof E=="boolean"?(y.boundary=4,y.storage=4):E.isVector2?(y.boundary=8,y.storage=8):E.isVector3||E.isColor?(y.boundary=16,y.storage=12):E.isVector4?(y.boundary=16,y.storage=16):E.isMatrix3?(y.boundary=48,y.storage=48):E.isMatrix4?(y.boundary=64,y.storage=64):E.isTexture?console.warn("THREE.WebGLRenderer: Texture samplers can not be part of an uniforms group."):console.warn("THREE.WebGLRenderer: Unsupported uniform value type.",E),y}function m(E){const y=E.target;y.removeEventListener("dispose",m);const M=a.indexOf(y.__bindingPointIndex);a.splice(M,1),n.deleteBuffer(r[y.id]),delete r[y.id],delete s[y.id]}function f(){for(const E in r)n.deleteBuffer(r[E]);a=[],r={},s={}}return{bind:l,update:c,dispose:f}}class ob{constructor(e={}){const{canvas:t=S_(),context:i=null,depth:r=!0,stencil:s=!1,alpha:a=!1,antialias:o=!1,premultipliedAlpha:l=!0,preserveDrawingBuffer:c=!1,powerPreference:u="default",failIfMajorPerformanceCaveat:d=!1,reversedDepthBuffer:h=!1}=e;this.isWebGLRenderer=!0;let p;if(i!==null){if(typeof WebGLRenderingContext<"u"&&i instanceof WebGLRenderingContext)throw new Error("THREE.WebGLRenderer: WebGL 1 is not supported since r163.");p=i.getContextAttributes().alpha}else p=a;const g=new Uint32Array(4),_=new Int32Array(4);let m=null,f=null;const E=[],y=[];this.domElement=t,this.debug={checkShaderErrors:!0,onShaderError:null},this.autoClear=!0,this.autoClearColor=!0,this.autoClearDepth=!0,this.autoClearStencil=!0,this.sortObjects=!0,this.clippingPlanes=[],this.localClippingEnabled=!1,this.toneMapping=zn,this.toneMappingExposure=1,this.transmissionResolutionScale=1;const M=this;let C=!1;this._outputColorSpace=qt;let A=0,D=0,F=null,w=-1,b=null;const P=new ut,k=new ut;let G=null;const W=new Xe(0);let Y=0,q=t.width,te=t.height,V=1,se=null,oe=null;const ye=new ut(0,0,q,te),ze=new ut(0,0,q,te);let Qe=!1;const st=new Fd;let qe=!1,j=!1;const J=new dt,pe=new O,De=new ut,we={background:null,fog:null,environment:null,overrideMaterial:null,isScene:!0};let Ve=!1;function Ct(){return F===null?V:1}let R=i;function at(S,U){return t.getContext(S,U)}try{const S={alpha:!0,depth:r,stencil:s,antialias:o,premultipliedAlpha:l,preserveDrawingBuffer:c,powerPreference:u,failIfMajorPerformanceCaveat:d};if("setAttribute"in t&&t.setAttribute("data-engine",`three.js r${Co}`),t.addEventListener("webglcontextlost",ae,!1),t.addEventListener("webglcontextrestored",fe,!1),t.addEventListener("webglcontextcreationerror",Q,!1),R===null){const U="webgl2";if(R=at(U,S),R===null)throw at(U)?new Error("Error creating WebGL context with your selected attributes."):new Error("Error creating WebGL context.")}}catch(S){throw console.error("THREE.WebGLRenderer: "+S.message),S}let Ne,Ce,_e,ot,ve,Oe,Mt,ft,T,v,B,X,K,$,Me,re,xe,Se,ne,ue,Re,be,ce,Ie;function L(){Ne=new _x(R),Ne.init(),be=new QS(R,Ne),Ce=new hx(R,Ne,e,be),_e=new KS(R,Ne),Ce.reversedDepthBuffer&&h&&_e.buffers.depth.setReversed(!0),ot=new Sx(R),ve=new OS,Oe=new JS(R,Ne,_e,ve,Ce,be,ot),Mt=new dx(M),ft=new gx(M),T=new a0(R),ce=new lx(R,T),v=new vx(R,T,ot,ce),B=new Mx(R,v,T,ot),ne=new bx(R,Ce,Oe),re=new ux(ve),X=new FS(M,Mt,ft,Ne,Ce,ce,re),K=new sb(M,ve),$=new zS,Me=new XS(Ne),Se=new ox(M,Mt,ft,_e,B,p,l),xe=new jS(M,B,Ce),Ie=new ab(R,ot,Ce,_e),ue=new cx(R,Ne,ot),Re=new xx(R,Ne,ot),ot.programs=X.programs,M.capabilities=Ce,M.extensions=Ne,M.properties=ve,M.renderLists=$,M.shadowMap=xe,M.state=_e,M.info=ot}L();const ie=new ib(M,R);this.xr=ie,this.getContext=function(){return R},this.getContextAttributes=function(){return R.getContextAttributes()},this.forceContextLoss=function(){const S=Ne.get("WEBGL_lose_context");S&&S.loseContext()},this.forceContextRestore=function(){const S=Ne.get("WEBGL_lose_context");S&&S.restoreContext()},this.getPixelRatio=function(){return V},this.setPixelRatio=function(S){S!==void 0&&(V=S,this.setSize(q,te,!1))},this.getSize=function(S){return S.set(q,te)},this.setSize=function(S,U,z=!0){if(ie.isPresenting){console.warn("THREE.WebGLRenderer: Can't change size while VR device is presenting.");return}q=S,te=U,t.width=Math.floor(S*V),t.height=Math.floor(U*V),z===!0&&(t.style.width=S+"px",t.style.height=U+"px"),this.setViewport(0,0,S,U)},this.getDrawingBufferSize=function(S){return S.set(q*V,te*V).floor()},this.setDrawingBufferSize=function(S,U,z){q=S,te=U,V=z,t.width=Math.floor(S*z),t.height=Math.floor(U*z),this.setViewport(0,0,S,U)},this.getCurrentViewport=function(S){return S.copy(P)},this.getViewport=function(S){return S.copy(ye)},this.setViewport=function(S,U,z,H){S.isVector4?ye.set(S.x,S.y,S.z,S.w):ye.set(S,U,z,H),_e.viewport(P.copy(ye).multiplyScalar(V).round())},this.getScissor=function(S){return S.copy(ze)},this.setScissor=function(S,U,z,H){S.isVector4?ze.set(S.x,S.y,S.z,S.w):ze.set(S,U,z,H),_e.scissor(k.copy(ze).multiplyScalar(V).round())},this.getScissorTest=function(){return Qe},this.setScissorTest=function(S){_e.setScissorTest(Qe=S)},this.setOpaqueSort=function(S){se=S},this.setTransparentSort=function(S){oe=S},this.getClearColor=function(S){return S.copy(Se.getClearColor())},this.setClearColor=function(){Se.setClearColor(...arguments)},this.getClearAlpha=function(){return Se.getClearAlpha()},this.setClearAlpha=function(){Se.setClearAlpha(...arguments)},this.clear=function(S=!0,U=!0,z=!0){let H=0;if(S){let I=!1;if(F!==null){const ee=F.texture.format;I=ee===jo||ee===Yo||ee===qo}if(I){const ee=F.texture.type,he=ee===Mn||ee===ci||ee===Pr||ee===Lr||ee===$o||ee===Xo,me=Se.getClearColor(),de=Se.getClearAlpha(),Ae=me.r,Pe=me.g,Ee=me.b;he?(g[0]=Ae,g[1]=Pe,g[2]=Ee,g[3]=de,R.clearBufferuiv(R.COLOR,0,g)):(_[0]=Ae,_[1]=Pe,_[2]=Ee,_[3]=de,R.clearBufferiv(R.COLOR,0,_))}else H|=R.COLOR_BUFFER_BIT}U&&(H|=R.DEPTH_BUFFER_BIT),z&&(H|=R.STENCIL_BUFFER_BIT,this.state.buffers.stencil.setMask(4294967295)),R.clear(H)},this.clearColor=function(){this.clear(!0,!1,!1)},this.clearDepth=function(){this.clear(!1,!0,!1)},this.clearStencil=function(){this.clear(!1,!1,!0)},this.dispose=function(){t.removeEventListener("webglcontextlost",ae,!1),t.removeEventListener("webglcontextrestored",fe,!1),t.removeEventListener("webglcontextcreationerror",Q,!1),Se.dispose(),$.dispose(),Me.dispose(),ve.dispose(),Mt.dispose(),ft.dispose(),B.dispose(),ce.dispose(),Ie.dispose(),X.dispose(),ie.dispose(),ie.removeEventListener("sessionstart",gn),ie.removeEventListener("sessionend",Df),Mi.stop()};function ae(S){S.preventDefault(),console.log("THREE.WebGLRenderer: Context Lost."),C=!0}function fe(){console.log("THREE.WebGLRenderer: Context Restored."),C=!1;const S=ot.autoReset,U=xe.enabled,z=xe.autoUpdate,H=xe.needsUpdate,I=xe.type;L(),ot.autoReset=S,xe.enabled=U,xe.autoUpdate=z,xe.needsUpdate=H,xe.type=I}function Q(S){console.error("THREE.WebGLRenderer: A WebGL context could not be created. Reason: ",S.statusMessage)}function Z(S){const U=S.target;U.removeEventListener("dispose",Z),ge(U)}function ge(S){Le(S),ve.remove(S)}function Le(S){const U=ve.get(S).programs;U!==void 0&&(U.forEach(function(z){X.releaseProgram(z)}),S.isShaderMaterial&&X.releaseShaderCache(S))}this.renderBufferDirect=function(S,U,z,H,I,ee){U===null&&(U=we);const he=I.isMesh&&I.matrixWorld.determinant()<0,me=Vb(S,U,z,H,I);_e.setMaterial(H,he);let de=z.index,Ae=1;if(H.wireframe===!0){if(de=v.getWireframeAttribute(z),de===void 0)return;Ae=2}const Pe=z.drawRange,Ee=z.attributes.position;let He=Pe.start*Ae,Ke=(Pe.start+Pe.count)*Ae;ee!==null&&(He=Math.max(He,ee.start*Ae),Ke=Math.min(Ke,(ee.start+ee.count)*Ae)),de!==null?(He=Math.max(He,0),Ke=Math.min(Ke,de.count)):Ee!=null&&(He=Math.max(He,0),Ke=Math.min(Ke,Ee.count));const ht=Ke-He;if(ht<0||ht===1/0)return;ce.setup(I,H,me,z,de);let tt,Je=ue;if(de!==null&&(tt=T.get(de),Je=Re,Je.setIndex(tt)),I.isMesh)H.wireframe===!0?(_e.setLineWidth(H.wireframeLinewidth*Ct()),Je.setMode(R.LINES)):Je.setMode(R.TRIANGLES);else if(I.isLine){let Te=H.linewidth;Te===void 0&&(Te=1),_e.setLineWidth(Te*Ct()),I.isLineSegments?Je.setMode(R.LINES):I.isLineLoop?Je.setMode(R.LINE_LOOP):Je.setMode(R.LINE_STRIP)}else I.isPoints?Je.setMode(R.POINTS):I.isSprite&&Je.setMode(R.TRIANGLES);if(I.isBatchedMesh)if(I._multiDrawInstances!==null)Fr("THREE.WebGLRenderer: renderMultiDrawInstances has been deprecated and will be removed in r184. Append to renderMultiDraw arguments and use indirection."),Je.renderMultiDrawInstances(I._multiDrawStarts,I._multiDrawCounts,I._multiDrawCount,I._multiDrawInstances);else if(Ne.get("WEBGL_multi_draw"))Je.renderMultiDraw(I._multiDrawStarts,I._multiDrawCounts,I._multiDrawCount);else{const Te=I._multiDrawStarts,lt=I._multiDrawCounts,We=I._multiDrawCount,Wt=de?T.get(de).bytesPerElement:1,ur=ve.get(H).currentProgram.getUniforms();for(let $t=0;$t<We;$t++)ur.setValue(R,"_gl_DrawID",$t),Je.render(Te[$t]/Wt,lt[$t])}else if(I.isInstancedMesh)Je.renderInstances(He,ht,I.count);else if(z.isInstancedBufferGeometry){const Te=z._maxInstanceCount!==void 0?z._maxInstanceCount:1/0,lt=Math.min(z.instanceCount,Te);Je.renderInstances(He,ht,lt)}else Je.render(He,ht)};function et(S,U,z){S.transparent===!0&&S.side===Ht&&S.forceSinglePass===!1?(S.side=It,S.needsUpdate=!0,wa(S,U,z),S.side=On,S.needsUpdate=!0,wa(S,U,z),S.side=Ht):wa(S,U,z)}this.compile=function(S,U,z=null){z===null&&(z=S),f=Me.get(z),f.init(U),y.push(f),z.traverseVisible(function(I){I.isLight&&I.layers.test(U.layers)&&(f.pushLight(I),I.castShadow&&f.pushShadow(I))}),S!==z&&S.traverseVisible(function(I){I.isLight&&I.layers.test(U.layers)&&(f.pushLight(I),I.castShadow&&f.pushShadow(I))}),f.setupLights();const H=new Set;return S.traverse(function(I){if(!(I.isMesh||I.isPoints||I.isLine||I.isSprite))return;const ee=I.material;if(ee)if(Array.isArray(ee))for(let he=0;he<ee.length;he++){const me=ee[he];et(me,z,I),H.add(me)}else et(ee,z,I),H.add(ee)}),f=y.pop(),H},this.compileAsync=function(S,U,z=null){const H=this.compile(S,U,z);return new Promise(I=>{function ee(){if(H.forEach(function(he){ve.get(he).currentProgram.isReady()&&H.delete(he)}),H.size===0){I(S);return}setTimeout(ee,10)}Ne.get("KHR_parallel_shader_compile")!==null?ee():setTimeout(ee,10)})};let Ye=null;function Nn(S){Ye&&Ye(S)}function gn(){Mi.stop()}function Df(){Mi.start()}const Mi=new jd;Mi.setAnimationLoop(Nn),typeof self<"u"&&Mi.setContext(self),this.setAnimationLoop=function(S){Ye=S,ie.setAnimationLoop(S),S===null?Mi.stop():Mi.start()},ie.addEventListener("sessionstart",gn),ie.addEventListener("sessionend",Df),this.render=function(S,U){if(U!==void 0&&U.isCamera!==!0){console.error("THREE.WebGLRenderer.render: camera is not an instance of THREE.Camera.");return}if(C===!0)return;if(S.matrixWorldAutoUpdate===!0&&S.updateMatrixWorld(),U.parent===null&&U.matrixWorldAutoUpdate===!0&&U.updateMatrixWorld(),ie.enabled===!0&&ie.isPresenting===!0&&(ie.cameraAutoUpdate===!0&&ie.updateCamera(U),U=ie.getCamera()),S.isScene===!0&&S.onBeforeRender(M,S,U,F),f=Me.get(S,y.length),f.init(U),y.push(f),J.multiplyMatrices(U.projectionMatrix,U.matrixWorldInverse),st.setFromProjectionMatrix(J,pn,U.reversedDepth),j=this.localClippingEnabled,qe=re.init(this.clippingPlanes,j),m=$.get(S,E.length),m.init(),E.push(m),ie.enabled===!0&&ie.isPresenting===!0){const ee=M.xr.getDepthSensingMesh();ee!==null&&lc(ee,U,-1/0,M.sortObjects)}lc(S,U,0,M.sortObjects),m.finish(),M.sortObjects===!0&&m.sort(se,oe),Ve=ie.enabled===!1||ie.isPresenting===!1||ie.hasDepthSensing()===!1,Ve&&Se.addToRenderList(m,S),this.info.render.frame++,qe===!0&&re.beginShadows();const z=f.state.shadowsArray;xe.render(z,S,U),qe===!0&&re.endShadows(),this.info.autoReset===!0&&this.info.reset();const H=m.opaque,I=m.transmissive;if(f.setupLights(),U.isArrayCamera){const ee=U.cameras;if(I.length>0)for(let he=0,me=ee.length;he<me;he++){const de=ee[he];Nf(H,I,S,de)}Ve&&Se.render(S);for(let he=0,me=ee.length;he<me;he++){const de=ee[he];Lf(m,S,de,de.viewport)}}else I.length>0&&Nf(H,I,S,U),Ve&&Se.render(S),Lf(m,S,U);F!==null&&D===0&&(Oe.updateMultisampleRenderTarget(F),Oe.updateRenderTargetMipmap(F)),S.isScene===!0&&S.onAfterRender(M,S,U),ce.resetDefaultState(),w=-1,b=null,y.pop(),y.length>0?(f=y[y.length-1],qe===!0&&re.setGlobalState(M.clippingPlanes,f.state.camera)):f=null,E.pop(),E.length>0?m=E[E.length-1]:m=null};function lc(S,U,z,H){if(S.visible===!1)return;if(S.layers.test(U.layers)){if(S.isGroup)z=S.renderOrder;else if(S.isLOD)S.autoUpdate===!0&&S.update(U);else if(S.isLight)f.pushLight(S),S.castShadow&&f.pushShadow(S);else if(S.isSprite){if(!S.frustumCulled||st.intersectsSprite(S)){H&&De.setFromMatrixPosition(S.matrixWorld).applyMatrix4(J);const he=B.update(S),me=S.material;me.visible&&m.push(S,he,me,z,De.z,null)}}else if((S.isMesh||S.isLine||S.isPoints)&&(!S.frustumCulled||st.intersectsObject(S))){const he=B.update(S),me=S.material;if(H&&(S.boundingSphere!==void 0?(S.boundingSphere===null&&S.computeBoundingSphere(),De.copy(S.boundingSphere.center)):(he.boundingSphere===null&&he.computeBoundingSphere(),De.copy(he.boundingSphere.center)),De.applyMatrix4(S.matrixWorld).applyMatrix4(J)),Array.isArray(me)){const de=he.groups;for(let Ae=0,Pe=de.length;Ae<Pe;Ae++){const Ee=de[Ae],He=me[Ee.materialIndex];He&&He.visible&&m.push(S,he,He,z,De.z,Ee)}}else me.visible&&m.push(S,he,me,z,De.z,null)}}const ee=S.children;for(let he=0,me=ee.length;he<me;he++)lc(ee[he],U,z,H)}function Lf(S,U,z,H){const I=S.opaque,ee=S.transmissive,he=S.transparent;f.setupLightsView(z),qe===!0&&re.setGlobalState(M.clippingPlanes,z),H&&_e.viewport(P.copy(H)),I.length>0&&Ma(I,U,z),ee.length>0&&Ma(ee,U,z),he.length>0&&Ma(he,U,z),_e.buffers.depth.setTest(!0),_e.buffers.depth.setMask(!0),_e.buffers.color.setMask(!0),_e.setPolygonOffset(!1)}function Nf(S,U,z,H){if((z.isScene===!0?z.overrideMaterial:null)!==null)return;f.state.transmissionRenderTarget[H.id]===void 0&&(f.state.transmissionRenderTarget[H.id]=new fi(1,1,{generateMipmaps:!0,type:Ne.has("EXT_color_buffer_half_float")||Ne.has("EXT_color_buffer_float")?Dr:Mn,minFilter:li,samples:4,stencilBuffer:s,resolveDepthBuffer:!1,resolveStencilBuffer:!1,colorSpace:Ge.workingColorSpace}));const ee=f.state.transmissionRenderTarget[H.id],he=H.viewport||P;ee.setSize(he.z*M.transmissionResolutionScale,he.w*M.transmissionResolutionScale);const me=M.getRenderTarget(),de=M.getActiveCubeFace(),Ae=M.getActiveMipmapLevel();M.setRenderTarget(ee),M.getClearColor(W),Y=M.getClearAlpha(),Y<1&&M.setClearColor(16777215,.5),M.clear(),Ve&&Se.render(z);const Pe=M.toneMapping;M.toneMapping=zn;const Ee=H.viewport;if(H.viewport!==void 0&&(H.viewport=void 0),f.setupLightsView(H),qe===!0&&re.setGlobalState(M.clippingPlanes,H),Ma(S,z,H),Oe.updateMultisampleRenderTarget(ee),Oe.updateRenderTargetMipmap(ee),Ne.has("WEBGL_multisampled_render_to_texture")===!1){let He=!1;for(let Ke=0,ht=U.length;Ke<ht;Ke++){const tt=U[Ke],Je=tt.object,Te=tt.geometry,lt=tt.material,We=tt.group;if(lt.side===Ht&&Je.layers.test(H.layers)){const Wt=lt.side;lt.side=It,lt.needsUpdate=!0,Uf(Je,z,H,Te,lt,We),lt.side=Wt,lt.needsUpdate=!0,He=!0}}He===!0&&(Oe.updateMultisampleRenderTarget(ee),Oe.updateRenderTargetMipmap(ee))}M.setRenderTarget(me,de,Ae),M.setClearColor(W,Y),Ee!==void 0&&(H.viewport=Ee),M.toneMapping=Pe}function Ma(S,U,z){const H=U.isScene===!0?U.overrideMaterial:null;for(let I=0,ee=S.length;I<ee;I++){const he=S[I],me=he.object,de=he.geometry,Ae=he.group;let Pe=he.material;Pe.allowOverride===!0&&H!==null&&(Pe=H),me.layers.test(z.layers)&&Uf(me,U,z,de,Pe,Ae)}}function Uf(S,U,z,H,I,ee){S.onBeforeRender(M,U,z,H,I,ee),S.modelViewMatrix.multiplyMatrices(z.matrixWorldInverse,S.matrixWorld),S.normalMatrix.getNormalMatrix(S.modelViewMatrix),I.onBeforeRender(M,U,z,H,S,ee),I.transparent===!0&&I.side===Ht&&I.forceSinglePass===!1?(I.side=It,I.needsUpdate=!0,M.renderBufferDirect(z,U,H,I,S,ee),I.side=On,I.needsUpdate=!0,M.renderBufferDirect(z,U,H,I,S,ee),I.side=Ht):M.renderBufferDirect(z,U,H,I,S,ee),S.onAfterRender(M,U,z,H,I,ee)}function wa(S,U,z){U.isScene!==!0&&(U=we);const H=ve.get(S),I=f.state.lights,ee=f.state.shadowsArray,he=I.state.version,me=X.getParameters(S,I.state,ee,U,z),de=X.getProgramCacheKey(me);let Ae=H.programs;H.environment=S.isMeshStandardMaterial?U.environment:null,H.fog=U.fog,H.envMap=(S.isMeshStandardMaterial?ft:Mt).get(S.envMap||H.environment),H.envMapRotation=H.environment!==null&&S.envMap===null?U.environmentRotation:S.envMapRotation,Ae===void 0&&(S.addEventListener("dispose",Z),Ae=new Map,H.programs=Ae);let Pe=Ae.get(de);if(Pe!==void 0){if(H.currentProgram===Pe&&H.lightsStateVersion===he)return kf(S,me),Pe}else me.uniforms=X.getUniforms(S),S.onBeforeCompile(me,M),Pe=X.acquireProgram(me,de),Ae.set(de,Pe),H.uniforms=me.uniforms;const Ee=H.uniforms;return(!S.isShaderMaterial&&!S.isRawShaderMaterial||S.clipping===!0)&&(Ee.clippingPlanes=re.uniform),kf(S,me),H.needsLights=Wb(S),H.lightsStateVersion=he,H.needsLights&&(Ee.ambientLightColor.value=I.state.ambient,Ee.lightProbe.value=I.state.probe,Ee.directionalLights.value=I.state.directional,Ee.directionalLightShadows.value=I.state.directionalShadow,Ee.spotLights.value=I.state.spot,Ee.spotLightShadows.value=I.state.spotShadow,Ee.rectAreaLights.value=I.state.rectArea,Ee.ltc_1.value=I.state.rectAreaLTC1,Ee.ltc_2.value=I.state.rectAreaLTC2,Ee.pointLights.value=I.state.point,Ee.pointLightShadows.value=I.state.pointShadow,Ee.hemisphereLights.value=I.state.hemi,Ee.directionalShadowMap.value=I.state.directionalShadowMap,Ee.directionalShadowMatrix.value=I.state.directionalShadowMatrix,Ee.spotShadowMap.value=I.state.spotShadowMap,Ee.spotLightMatrix.value=I.state.spotLightMatrix,Ee.spotLightMap.value=I.state.spotLightMap,Ee.pointShadowMap.value=I.state.pointShadowMap,Ee.pointShadowMatrix.value=I.state.pointShadowMatrix),H.currentProgram=Pe,H.uniformsList=null,Pe}function If(S){if(S.uniformsList===null){const U=S.currentProgram.getUniforms();S.uniformsList=va.seqWithValue(U.seq,S.uniforms)}return S.uniformsList}function kf(S,U){const z=ve.get(S);z.outputColorSpace=U.outputColorSpace,z.batching=U.batching,z.batchingColor=U.batchingColor,z.instancing=U.instancing,z.instancingColor=U.instancingColor,z.instancingMorph=U.instancingMorph,z.skinning=U.skinning,z.morphTargets=U.morphTargets,z.morphNormals=U.morphNormals,z.morphColors=U.morphColors,z.morphTargetsCount=U.morphTargetsCount,z.numClippingPlanes=U.numClippingPlanes,z.numIntersection=U.numClipIntersection,z.vertexAlphas=U.vertexAlphas,z.vertexTangents=U.vertexTangents,z.toneMapping=U.toneMapping}function Vb(S,U,z,H,I){U.isScene!==!0&&(U=we),Oe.resetTextureUnits();const ee=U.fog,he=H.isMeshStandardMaterial?U.environment:null,me=F===null?M.outputColorSpace:F.isXRRenderTarget===!0?F.texture.colorSpace:hi,de=(H.isMeshStandardMaterial?ft:Mt).get(H.envMap||he),Ae=H.vertexColors===!0&&!!z.attributes.color&&z.attributes.color.itemSize===4,Pe=!!z.attributes.tangent&&(!!H.normalMap||H.anisotropy>0),Ee=!!z.morphAttributes.position,He=!!z.morphAttributes.normal,Ke=!!z.morphAttributes.color;let ht=zn;H.toneMapped&&(F===null||F.isXRRenderTarget===!0)&&(ht=M.toneMapping);const tt=z.morphAttributes.position||z.morphAttributes.normal||z.morphAttributes.color,Je=tt!==void 0?tt.length:0,Te=ve.get(H),lt=f.state.lights;if(qe===!0&&(j===!0||S!==b)){const Lt=S===b&&H.id===w;re.setState(H,S,Lt)}let We=!1;H.version===Te.__version?(Te.needsLights&&Te.lightsStateVersion!==lt.state.version||Te.outputColorSpace!==me||I.isBatchedMesh&&Te.batching===!1||!I.isBatchedMesh&&Te.batching===!0||I.isBatchedMesh&&Te.batchingColor===!0&&I.colorTexture===null||I.isBatchedMesh&&Te.batchingColor===!1&&I.colorTexture!==null||I.isInstancedMesh&&Te.instancing===!1||!I.isInstancedMesh&&Te.instancing===!0||I.isSkinnedMesh&&Te.skinning===!1||!I.isSkinnedMesh&&Te.skinning===!0||I.isInstancedMesh&&Te.instancingColor===!0&&I.instanceColor===null||I.isInstancedMesh&&Te.instancingColor===!1&&I.instanceColor!==null||I.isInstancedMesh&&Te.instancingMorph===!0&&I.morphTexture===null||I.isInstancedMesh&&Te.instancingMorph===!1&&I.morphTexture!==null||Te.envMap!==de||H.fog===!0&&Te.fog!==ee||Te.numClippingPlanes!==void 0&&(Te.numClippingPlanes!==re.numPlanes||Te.numIntersection!==re.numIntersection)||Te.vertexAlphas!==Ae||Te.vertexTangents!==Pe||Te.morphTargets!==Ee||Te.morphNormals!==He||Te.morphColors!==Ke||Te.toneMapping!==ht||Te.morphTargetsCount!==Je)&&(We=!0):(We=!0,Te.__version=H.version);let Wt=Te.currentProgram;We===!0&&(Wt=wa(H,U,I));let ur=!1,$t=!1,Yr=!1;const ct=Wt.getUniforms(),Zt=Te.uniforms;if(_e.useProgram(Wt.program)&&(ur=!0,$t=!0,Yr=!0),H.id!==w&&(w=H.id,$t=!0),ur||b!==S){_e.buffers.depth.getReversed()&&S.reversedDepth!==!0&&(S._reversedDepth=!0,S.updateProjectionMatrix()),ct.setValue(R,"projectionMatrix",S.projectionMatrix),ct.setValue(R,"viewMatrix",S.matrixWorldInverse);const Bt=ct.map.cameraPosition;Bt!==void 0&&Bt.setValue(R,pe.setFromMatrixPosition(S.matrixWorld)),Ce.logarithmicDepthBuffer&&ct.setValue(R,"logDepthBufFC",2/(Math.log(S.far+1)/Math.LN2)),(H.isMeshPhongMaterial||H.isMeshToonMaterial||H.isMeshLambertMaterial||H.isMeshBasicMaterial||H.isMeshStandardMaterial||H.isShaderMaterial)&&ct.setValue(R,"isOrthographic",S.isOrthographicCamera===!0),b!==S&&(b=S,$t=!0,Yr=!0)}if(I.isSkinnedMesh){ct.setOptional(R,I,"bindMatrix"),ct.setOptional(R,I,"bindMatrixInverse");const Lt=I.skeleton;Lt&&(Lt.boneTexture===null&&Lt.computeBoneTexture(),ct.setValue(R,"boneTexture",Lt.boneTexture,Oe))}I.isBatchedMesh&&(ct.setOptional(R,I,"batchingTexture"),ct.setValue(R,"batchingTexture",I._matricesTexture,Oe),ct.setOptional(R,I,"batchingIdTexture"),ct.setValue(R,"batchingIdTexture",I._indirectTexture,Oe),ct.setOptional(R,I,"batchingColorTexture"),I._colorsTexture!==null&&ct.setValue(R,"batchingColorTexture",I._colorsTexture,Oe));const Kt=z.morphAttributes;if((Kt.position!==void 0||Kt.normal!==void 0||Kt.color!==void 0)&&ne.update(I,z,Wt),($t||Te.receiveShadow!==I.receiveShadow)&&(Te.receiveShadow=I.receiveShadow,ct.setValue(R,"receiveShadow",I.receiveShadow)),H.isMeshGouraudMaterial&&H.envMap!==null&&(Zt.envMap.value=de,Zt.flipEnvMap.value=de.isCubeTexture&&de.isRenderTargetTexture===!1?-1:1),H.isMeshStandardMaterial&&H.envMap===null&&U.environment!==null&&(Zt.envMapIntensity.value=U.environmentIntensity),$t&&(ct.setValue(R,"toneMappingExposure",M.toneMappingExposure),Te.needsLights&&Gb(Zt,Yr),ee&&H.fog===!0&&K.refreshFogUniforms(Zt,ee),K.refreshMaterialUniforms(Zt,H,V,te,f.state.transmissionRenderTarget[S.id]),va.upload(R,If(Te),Zt,Oe)),H.isShaderMaterial&&H.uniformsNeedUpdate===!0&&(va.upload(R,If(Te),Zt,Oe),H.uniformsNeedUpdate=!1),H.isSpriteMaterial&&ct.setValue(R,"center",I.center),ct.setValue(R,"modelViewMatrix",I.modelViewMatrix),ct.setValue(R,"normalMatrix",I.normalMatrix),ct.setValue(R,"modelMatrix",I.matrixWorld),H.isShaderMaterial||H.isRawShaderMaterial){const Lt=H.uniformsGroups;for(let Bt=0,cc=Lt.length;Bt<cc;Bt++){const wi=Lt[Bt];Ie.update(wi,Wt),Ie.bind(wi,Wt)}}return Wt}function Gb(S,U){S.ambientLightColor.needsUpdate=U,S.lightProbe.needsUpdate=U,S.directionalLights.needsUpdate=U,S.directionalLightShadows.needsUpdate=U,S.pointLights.needsUpdate=U,S.pointLightShadows.needsUpdate=U,S.spotLights.needsUpdate=U,S.spotLightShadows.needsUpdate=U,S.rectAreaLights.needsUpdate=U,S.hemisphereLights.needsUpdate=U}function Wb(S){return S.isMeshLambertMaterial||S.isMeshToonMaterial||S.isMeshPhongMaterial||S.isMeshStandardMaterial||S.isShadowMaterial||S.isShaderMaterial&&S.lights===!0}this.getActiveCubeFace=function(){return A},this.getActiveMipmapLevel=function(){return D},this.getRenderTarget=function(){return F},this.setRenderTargetTextures=function(S,U,z){const H=ve.get(S);H.__autoAllocateDepthBuffer=S.resolveDepthBuffer===!1,H.__autoAllocateDepthBuffer===!1&&(H.__useRenderToTexture=!1),ve.get(S.texture).__webglTexture=U,ve.get(S.depthTexture).__webglTexture=H.__autoAllocateDepthBuffer?void 0:z,H.__hasExternalTextures=!0},this.setRenderTargetFramebuffer=function(S,U){const z=ve.get(S);z.__webglFramebuffer=U,z.__useDefaultFramebuffer=U===void 0};const $b=R.createFramebuffer();this.setRenderTarget=function(S,U=0,z=0){F=S,A=U,D=z;let H=!0,I=null,ee=!1,he=!1;if(S){const de=ve.get(S);if(de.__useDefaultFramebuffer!==void 0)_e.bindFramebuffer(R.FRAMEBUFFER,null),H=!1;else if(de.__webglFramebuffer===void 0)Oe.setupRenderTarget(S);else if(de.__hasExternalTextures)Oe.rebindTextures(S,ve.get(S.texture).__webglTexture,ve.get(S.depthTexture).__webglTexture);else if(S.depthBuffer){const Ee=S.depthTexture;if(de.__boundDepthTexture!==Ee){if(Ee!==null&&ve.has(Ee)&&(S.width!==Ee.image.width||S.height!==Ee.image.height))throw new Error("WebGLRenderTarget: Attached DepthTexture is initialized to the incorrect size.");Oe.setupDepthRenderbuffer(S)}}const Ae=S.texture;(Ae.isData3DTexture||Ae.isDataArrayTexture||Ae.isCompressedArrayTexture)&&(he=!0);const Pe=ve.get(S).__webglFramebuffer;S.isWebGLCubeRenderTarget?(Array.isArray(Pe[U])?I=Pe[U][z]:I=Pe[U],ee=!0):S.samples>0&&Oe.useMultisampledRTT(S)===!1?I=ve.get(S).__webglMultisampledFramebuffer:Array.isArray(Pe)?I=Pe[z]:I=Pe,P.copy(S.viewport),k.copy(S.scissor),G=S.scissorTest}else P.copy(ye).multiplyScalar(V).floor(),k.copy(ze).multiplyScalar(V).floor(),G=Qe;if(z!==0&&(I=$b),_e.bindFramebuffer(R.FRAMEBUFFER,I)&&H&&_e.drawBuffers(S,I),_e.viewport(P),_e.scissor(k),_e.setScissorTest(G),ee){const de=ve.get(S.texture);R.framebufferTexture2D(R.FRAMEBUFFER,R.COLOR_ATTACHMENT0,R.TEXTURE_CUBE_MAP_POSITIVE_X+U,de.__webglTexture,z)}else if(he){const de=U;for(let Ae=0;Ae<S.textures.length;Ae++){const Pe=ve.get(S.textures[Ae]);R.framebufferTextureLayer(R.FRAMEBUFFER,R.COLOR_ATTACHMENT0+Ae,Pe.__webglTexture,z,de)}}else if(S!==null&&z!==0){const de=ve.get(S.texture);R.framebufferTexture2D(R.FRAMEBUFFER,R.COLOR_ATTACHMENT0,R.TEXTURE_2D,de.__webglTexture,z)}w=-1},this.readRenderTargetPixels=function(S,U,z,H,I,ee,he,me=0){if(!(S&&S.isWebGLRenderTarget)){console.error("THREE.WebGLRenderer.readRenderTargetPixels: renderTarget is not THREE.WebGLRenderTarget.");return}let de=ve.get(S).__webglFramebuffer;if(S.isWebGLCubeRenderTarget&&he!==void 0&&(de=de[he]),de){_e.bindFramebuffer(R.FRAMEBUFFER,de);try{const Ae=S.textures[me],Pe=Ae.format,Ee=Ae.type;if(!Ce.textureFormatReadable(Pe)){console.error("THREE.WebGLRenderer.readRenderTargetPixels: renderTarget is not in RGBA or implementation defined format.");return}if(!Ce.textureTypeReadable(Ee)){console.error("THREE.WebGLRenderer.readRenderTargetPixels: renderTarget is not in UnsignedByteType or implementation defined type.");return}U>=0&&U<=S.width-H&&z>=0&&z<=S.height-I&&(S.textures.length>1&&R.readBuffer(R.COLOR_ATTACHMENT0+me),R.readPixels(U,z,H,I,be.convert(Pe),be.convert(Ee),ee))}finally{const Ae=F!==null?ve.get(F).__webglFramebuffer:null;_e.bindFramebuffer(R.FRAMEBUFFER,Ae)}}},this.readRenderTargetPixelsAsync=async function(S,U,z,H,I,ee,he,me=0){if(!(S&&S.isWebGLRenderTarget))throw new Error("THREE.WebGLRenderer.readRenderTargetPixels: renderTarget is not THREE.WebGLRenderTarget.");let de=ve.get(S).__webglFramebuffer;if(S.isWebGLCubeRenderTarget&&he!==void 0&&(de=de[he]),de)if(U>=0&&U<=S.width-H&&z>=0&&z<=S.height-I){_e.bindFramebuffer(R.FRAMEBUFFER,de);const Ae=S.textures[me],Pe=Ae.format,Ee=Ae.type;if(!Ce.textureFormatReadable(Pe))throw new Error("THREE.WebGLRenderer.readRenderTargetPixelsAsync: renderTarget is not in RGBA or implementation defined format.");if(!Ce.textureTypeReadable(Ee))throw new Error("THREE.WebGLRenderer.readRenderTargetPixelsAsync: renderTarget is not in UnsignedByteType or implementation defined type.");const He=R.createBuffer();R.bindBuffer(R.PIXEL_PACK_BUFFER,He),R.bufferData(R.PIXEL_PACK_BUFFER,ee.byteLength,R.STREAM_READ),S.textures.length>1&&R.readBuffer(R.COLOR_ATTACHMENT0+me),R.readPixels(U,z,H,I,be.convert(Pe),be.convert(Ee),0);const Ke=F!==null?ve.get(F).__webglFramebuffer:null;_e.bindFramebuffer(R.FRAMEBUFFER,Ke);const ht=R.fenceSync(R.SYNC_GPU_COMMANDS_COMPLETE,0);return R.flush(),await b_(R,ht,4),R.bindBuffer(R.PIXEL_PACK_BUFFER,He),R.getBufferSubData(R.PIXEL_PACK_BUFFER,0,ee),R.deleteBuffer(He),R.deleteSync(ht),ee}else throw new Error("THREE.WebGLRenderer.readRenderTargetPixelsAsync: requested read bounds are out of range.")},this.copyFramebufferToTexture=function(S,U=null,z=0){const H=Math.pow(2,-z),I=Math.floor(S.image.width*H),ee=Math.floor(S.image.height*H),he=U!==null?U.x:0,me=U!==null?U.y:0;Oe.setTexture2D(S,0),R.copyTexSubImage2D(R.TEXTURE_2D,z,0,0,he,me,I,ee),_e.unbindTexture()};const Xb=R.createFramebuffer(),qb=R.createFramebuffer();this.copyTextureToTexture=function(S,U,z=null,H=null,I=0,ee=null){ee===null&&(I!==0?(Fr("WebGLRenderer: copyTextureToTexture function signature has changed to support src and dst mipmap levels."),ee=I,I=0):ee=0);let he,me,de,Ae,Pe,Ee,He,Ke,ht;const tt=S.isCompressedTexture?S.mipmaps[ee]:S.image;if(z!==null)he=z.max.x-z.min.x,me=z.max.y-z.min.y,de=z.isBox3?z.max.z-z.min.z:1,Ae=z.min.x,Pe=z.min.y,Ee=z.isBox3?z.min.z:0;else{const Kt=Math.pow(2,-I);he=Math.floor(tt.width*Kt),me=Math.floor(tt.height*Kt),S.isDataArrayTexture?de=tt.depth:S.isData3DTexture?de=Math.floor(tt.depth*Kt):de=1,Ae=0,Pe=0,Ee=0}H!==null?(He=H.x,Ke=H.y,ht=H.z):(He=0,Ke=0,ht=0);const Je=be.convert(U.format),Te=be.convert(U.type);let lt;U.isData3DTexture?(Oe.setTexture3D(U,0),lt=R.TEXTURE_3D):U.isDataArrayTexture||U.isCompressedArrayTexture?(Oe.setTexture2DArray(U,0),lt=R.TEXTURE_2D_ARRAY):(Oe.setTexture2D(U,0),lt=R.TEXTURE_2D),R.pixelStorei(R.UNPACK_FLIP_Y_WEBGL,U.flipY),R.pixelStorei(R.UNPACK_PREMULTIPLY_ALPHA_WEBGL,U.premultiplyAlpha),R.pixelStorei(R.UNPACK_ALIGNMENT,U.unpackAlignment);const We=R.getParameter(R.UNPACK_ROW_LENGTH),Wt=R.getParameter(R.UNPACK_IMAGE_HEIGHT),ur=R.getParameter(R.UNPACK_SKIP_PIXELS),$t=R.getParameter(R.UNPACK_SKIP_ROWS),Yr=R.getParameter(R.UNPACK_SKIP_IMAGES);R.pixelStorei(R.UNPACK_ROW_LENGTH,tt.width),R.pixelStorei(R.UNPACK_IMAGE_HEIGHT,tt.height),R.pixelStorei(R.UNPACK_SKIP_PIXELS,Ae),R.pixelStorei(R.UNPACK_SKIP_ROWS,Pe),R.pixelStorei(R.UNPACK_SKIP_IMAGES,Ee);const ct=S.isDataArrayTexture||S.isData3DTexture,Zt=U.isDataArrayTexture||U.isData3DTexture;if(S.isDepthTexture){const Kt=ve.get(S),Lt=ve.get(U),Bt=ve.get(Kt.__renderTarget),cc=ve.get(Lt.__renderTarget);_e.bindFramebuffer(R.READ_FRAMEBUFFER,Bt.__webglFramebuffer),_e.bindFramebuffer(R.DRAW_FRAMEBUFFER,cc.__webglFramebuffer);for(let wi=0;wi<de;wi++)ct&&(R.framebufferTextureLayer(R.READ_FRAMEBUFFER,R.COLOR_ATTACHMENT0,ve.get(S).__webglTexture,I,Ee+wi),R.framebufferTextureLayer(R.DRAW_FRAMEBUFFER,R.COLOR_ATTACHMENT0,ve.get(U).__webglTexture,ee,ht+wi)),R.blitFramebuffer(Ae,Pe,he,me,He,Ke,he,me,R.DEPTH_BUFFER_BIT,R.NEAREST);_e.bindFramebuffer(R.READ_FRAMEBUFFER,null),_e.bindFramebuffer(R.DRAW_FRAMEBUFFER,null)}else if(I!==0||S.isRenderTargetTexture||ve.has(S)){const Kt=ve.get(S),Lt=ve.get(U);_e.bindFramebuffer(R.READ_FRAMEBUFFER,Xb),_e.bindFramebuffer(R.DRAW_FRAMEBUFFER,qb);for(let Bt=0;Bt<de;Bt++)ct?R.framebufferTextureLayer(R.READ_FRAMEBUFFER,R.COLOR_ATTACHMENT0,Kt.__webglTexture,I,Ee+Bt):R.framebufferTexture2D(R.READ_FRAMEBUFFER,R.COLOR_ATTACHMENT0,R.TEXTURE_2D,Kt.__webglTexture,I),Zt?R.framebufferTextureLayer(R.DRAW_FRAMEBUFFER,R.COLOR_ATTACHMENT0,Lt.__webglTexture,ee,ht+Bt):R.framebufferTexture2D(R.DRAW_FRAMEBUFFER,R.COLOR_ATTACHMENT0,R.TEXTURE_2D,Lt.__webglTexture,ee),I!==0?R.blitFramebuffer(Ae,Pe,he,me,He,Ke,he,me,R.COLOR_BUFFER_BIT,R.NEAREST):Zt?R.copyTexSubImage3D(lt,ee,He,Ke,ht+Bt,Ae,Pe,he,me):R.copyTexSubImage2D(lt,ee,He,Ke,Ae,Pe,he,me);_e.bindFramebuffer(R.READ_FRAMEBUFFER,null),_e.bindFramebuffer(R.DRAW_FRAMEBUFFER,null)}else Zt?S.isDataTexture||S.isData3DTexture?R.texSubImage3D(lt,ee,He,Ke,ht,he,me,de,Je,Te,tt.data):U.isCompressedArrayTexture?R.compressedTexSubImage3D(lt,ee,He,Ke,ht,he,me,de,Je,tt.data):R.texSubImage3D(lt,ee,He,Ke,ht,he,me,de,Je,Te,tt):S.isDataTexture?R.texSubImage2D(R.TEXTURE_2D,ee,He,Ke,he,me,Je,Te,tt.data):S.isCompressedTexture?R.compressedTexSubImage2D(R.TEXTURE_2D,ee,He,Ke,tt.width,tt.height,Je,tt.data):R.texSubImage2D(R.TEXTURE_2D,ee,He,Ke,he,me,Je,Te,tt);R.pixelStorei(R.UNPACK_ROW_LENGTH,We),R.pixelStorei(R.UNPACK_IMAGE_HEIGHT,Wt),R.pixelStorei(R.UNPACK_SKIP_PIXELS,ur),R.pixelStorei(R.UNPACK_SKIP_ROWS,$t),R.pixelStorei(R.UNPACK_SKIP_IMAGES,Yr),ee===0&&U.generateMipmaps&&R.generateMipmap(lt),_e.unbindTexture()},this.initRenderTarget=function(S){ve.get(S).__webglFramebuffer===void 0&&Oe.setupRenderTarget(S)},this.initTexture=function(S){S.isCubeTexture?Oe.setTextureCube(S,0):S.isData3DTexture?Oe.setTexture3D(S,0):S.isDataArrayTexture||S.isCompressedArrayTexture?Oe.setTexture2DArray(S,0):Oe.setTexture2D(S,0),_e.unbindTexture()},this.resetState=function(){A=0,D=0,F=null,_e.reset(),ce.reset()},typeof __THREE_DEVTOOLS__<"u"&&__THREE_DEVTOOLS__.dispatchEvent(new CustomEvent("observe",{detail:this}))}get coordinateSystem(){return pn}get outputColorSpace(){return this._outputColorSpace}set outputColorSpace(e){this._outputColorSpace=e;const t=this.getContext();t.drawingBufferColorSpace=Ge._getDrawingBufferColorSpace(e),t.unpackColorSpace=Ge._getUnpackColorSpace()}}const Ef={type:"change"},ac={type:"start"},Tf={type:"end"},Sa=new Ks,Af=new jn,lb=Math.cos(70*x_.DEG2RAD),vt=new O,Ot=2*Math.PI,Ze={NONE:-1,ROTATE:0,DOLLY:1,PAN:2,TOUCH_ROTATE:3,TOUCH_PAN:4,TOUCH_DOLLY_PAN:5,TOUCH_DOLLY_ROTATE:6},oc=1e-6;class cb extends r0{constructor(e,t=null){super(e,t),this.state=Ze.NONE,this.target=new O,this.cursor=new O,this.minDistance=0,this.maxDistance=1/0,this.minZoom=0,this.maxZoom=1/0,this.minTargetRadius=0,this.maxTargetRadius=1/0,this.minPolarAngle=0,this.maxPolarAngle=Math.PI,this.minAzimuthAngle=-1/0,this.maxAzimuthAngle=1/0,this.enableDamping=!1,this.dampingFactor=.05,this.enableZoom=!0,this.zoomSpeed=1,this.enableRotate=!0,this.rotateSpeed=1,this.keyRotateSpeed=1,this.enablePan=!0,this.panSpeed=1,this.screenSpacePanning=!0,this.keyPanSpeed=7,this.zoomToCursor=!1,this.autoRotate=!1,this.autoRotateSpeed=2,this.keys={LEFT:"ArrowLeft",UP:"ArrowUp",RIGHT:"ArrowRight",BOTTOM:"ArrowDown"},this.mouseButtons={LEFT:zi.ROTATE,MIDDLE:zi.DOLLY,RIGHT:zi.PAN},this.touches={ONE:Hi.ROTATE,TWO:Hi.DOLLY_PAN},this.target0=this.target.clone(),this.position0=this.object.position.clone(),this.zoom0=this.object.zoom,this._domElementKeyEvents=null,this._lastPosition=new O,this._lastQuaternion=new di,this._lastTargetPosition=new O,this._quat=new di().setFromUnitVectors(e.up,new O(0,1,0)),this._quatInverse=this._quat.clone().invert(),this._spherical=new qd,this._sphericalDelta=new qd,this._scale=1,this._panOffset=new O,this._rotateStart=new ke,this._rotateEnd=new ke,this._rotateDelta=new ke,this._panStart=new ke,this._panEnd=new ke,this._panDelta=new ke,this._dollyStart=new ke,this._dollyEnd=new ke,this._dollyDelta=new ke,this._dollyDirection=new O,this._mouse=new ke,this._performCursorZoom=!1,this._pointers=[],this._pointerPositions={},this._controlActive=!1,this._onPointerMove=ub.bind(this),this._onPointerDown=hb.bind(this),this._onPointerUp=db.bind(this),this._onContextMenu=xb.bind(this),this._onMouseWheel=mb.bind(this),this._onKeyDown=gb.bind(this),this._onTouchStart=_b.bind(this),this._onTouchMove=vb.bind(this),this._onMouseDown=fb.bind(this),this._onMouseMove=pb.bind(this),this._interceptControlDown=Sb.bind(this),this._interceptControlUp=bb.bind(this),this.domElement!==null&&this.connect(this.domElement),this.update()}connect(e){super.connect(e),this.domElement.addEventListener("pointerdown",this._onPointerDown),this.domElement.addEventListener("pointercancel",this._onPointerUp),this.domElement.addEventListener("contextmenu",this._onContextMenu),this.domElement.addEventListener("wheel",this._onMouseWheel,{passive:!1}),this.domElement.getRootNode().addEventListener("keydown",this._interceptControlDown,{passive:!0,capture:!0}),this.domElement.style.touchAction="none"}disconnect(){this.domElement.removeEventListener("pointerdown",this._onPointerDown),this.domElement.removeEventListener("pointermove",this._onPointerMove),this.domElement.removeEventListener("pointerup",this._onPointerUp),this.domElement.removeEventListener("pointercancel",this._onPointerUp),this.domElement.removeEventListener("wheel",this._onMouseWheel),this.domElement.removeEventListener("contextmenu",this._onContextMenu),this.stopListenToKeyEvents(),this.domElement.getRootNode().removeEventListener("keydown",this._interceptControlDown,{capture:!0}),this.domElement.style.touchAction="auto"}dispose(){this.disconnect()}getPolarAngle(){return this._spherical.phi}getAzimuthalAngle(){return this._spherical.theta}getDistance(){return this.object.position.distanceTo(this.target)}listenToKeyEvents(e){e.addEventListener("keydown",this._onKeyDown),this._domElementKeyEvents=e}stopListenToKeyEvents(){this._domElementKeyEvents!==null&&(this._domElementKeyEvents.removeEventListener("keydown",this._onKeyDown),this._domElementKeyEvents=null)}saveState(){this.target0.copy(this.target),this.position0.copy(this.object.position),this.zoom0=this.object.zoom}reset(){this.target.copy(this.target0),this.object.position.copy(this.position0),this.object.zoom=this.zoom0,this.object.updateProjectionMatrix(),this.dispatchEvent(Ef),this.update(),this.state=Ze.NONE}update(e=null){const t=this.object.position;vt.copy(t).sub(this.target),vt.applyQuaternion(this._quat),this._spherical.setFromVector3(vt),this.autoRotate&&this.state===Ze.NONE&&this._rotateLeft(this._getAutoRotationAngle(e)),this.enableDamping?(this._spherical.theta+=this._sphericalDelta.theta*this.dampingFactor,this._spherical.phi+=this._sphericalDelta.phi*this.dampingFactor):(this._spherical.theta+=this._sphericalDelta.theta,this._spherical.phi+=this._sphericalDelta.phi);let i=this.minAzimuthAngle,r=this.maxAzimuthAngle;isFinite(i)&&isFinite(r)&&(i<-Math.PI?i+=Ot:i>Math.PI&&(i-=Ot),r<-Math.PI?r+=Ot:r>Math.PI&&(r-=Ot),i<=r?this._spherical.theta=Math.max(i,Math.min(r,this._spherical.theta)):this._spherical.theta=this._spherical.theta>(i+r)/2?Math.max(i,this._spherical.theta):Math.min(r,this._spherical.theta)),this._spherical.phi=Math.max(this.minPolarAngle,Math.min(this.maxPolarAngle,this._spherical.phi)),this._spherical.makeSafe(),this.enableDamping===!0?this.target.addScaledVector(this._panOffset,this.dampingFactor):this.target.add(this._panOffset),this.target.sub(this.cursor),this.target.clampLength(this.minTargetRadius,this.maxTargetRadius),this.target.add(this.cursor);let s=!1;if(this.zoomToCursor&&this._performCursorZoom||this.object.isOrthographicCamera)this._spherical.radius=this._clampDistance(this._spherical.radius);else{const a=this._spherical.radius;this._spherical.radius=this._clampDistance(this._spherical.radius*this._scale),s=a!=this._spherical.radius}if(vt.setFromSpherical(this._spherical),vt.applyQuaternion(this._quatInverse),t.copy(this.target).add(vt),this.object.lookAt(this.target),this.enableDamping===!0?(this._sphericalDelta.theta*=1-this.dampingFactor,this._sphericalDelta.phi*=1-this.dampingFactor,this._panOffset.multiplyScalar(1-this.dampingFactor)):(this._sphericalDelta.set(0,0,0),this._panOffset.set(0,0,0)),this.zoomToCursor&&this._performCursorZoom){let a=null;if(this.object.isPerspectiveCamera){const o=vt.length();a=this._clampDistance(o*this._scale);const l=o-a;this.object.position.addScaledVector(this._dollyDirection,l),this.object.updateMatrixWorld(),s=!!l}else if(this.object.isOrthographicCamera){const o=new O(this._mouse.x,this._mouse.y,0);o.unproject(this.object);const l=this.object.zoom;this.object.zoom=Math.max(this.minZoom,Math.min(this.maxZoom,this.object.zoom/this._scale)),this.object.updateProjectionMatrix(),s=l!==this.object.zoom;const c=new O(this._mouse.x,this._mouse.y,0);c.unproject(this.object),this.object.position.sub(c).add(o),this.object.updateMatrixWorld(),a=vt.length()}else console.warn("WARNING: OrbitControls.js encountered an unknown camera type - zoom to cursor disabled."),this.zoomToCursor=!1;a!==null&&(this.screenSpacePanning?this.target.set(0,0,-1).transformDirection(this.object.matrix).multiplyScalar(a).add(this.object.position):(Sa.origin.copy(this.object.position),Sa.direction.set(0,0,-1).transformDirection(this.object.matrix),Math.abs(this.object.up.dot(Sa.direction))<lb?this.object.lookAt(this.target):(Af.setFromNormalAndCoplanarPoint(this.object.up,this.target),Sa.intersectPlane(Af,this.target))))}else if(this.object.isOrthographicCamera){const a=this.object.zoom;this.object.zoom=Math.max(this.minZoom,Math.min(this.maxZoom,this.object.zoom/this._scale)),a!==this.object.zoom&&(this.object.updateProjectionMatrix(),s=!0)}return this._scale=1,this._performCursorZoom=!1,s||this._lastPosition.distanceToSquared(this.object.position)>oc||8*(1-this._lastQuaternion.dot(this.object.quaternion))>oc||this._lastTargetPosition.distanceToSquared(this.target)>oc?(this.dispatchEvent(Ef),this._lastPosition.copy(this.object.position),this._lastQuaternion.copy(this.object.quaternion),this._lastTargetPosition.copy(this.target),!0):!1}_getAutoRotationAngle(e){return e!==null?Ot/60*this.autoRotateSpeed*e:Ot/60/60*this.autoRotateSpeed}_getZoomScale(e){const t=Math.abs(e*.01);return Math.pow(.95,this.zoomSpeed*t)}_rotateLeft(e){this._sphericalDelta.theta-=e}_rotateUp(e){this._sphericalDelta.phi-=e}_panLeft(e,t){vt.setFromMatrixColumn(t,0),vt.multiplyScalar(-e),this._panOffset.add(vt)}_panUp(e,t){this.screenSpacePanning===!0?vt.setFromMatrixColumn(t,1):(vt.setFromMatrixColumn(t,0),vt.crossVectors(this.object.up,vt)),vt.multiplyScalar(e),this._panOffset.add(vt)}_pan(e,t){const i=this.domElement;if(this.object.isPerspectiveCamera){const r=this.object.position;vt.copy(r).sub(this.target);let s=vt.length();s*=Math.tan(this.object.fov/2*Math.PI/180),this._panLeft(2*e*s/i.clientHeight,this.object.matrix),this._panUp(2*t*s/i.clientHeight,this.object.matrix)}else this.object.isOrthographicCamera?(this._panLeft(e*(this.object.right-this.object.left)/this.object.zoom/i.clientWidth,this.object.matrix),this._panUp(t*(this.object.top-this.object.bottom)/this.object.zoom/i.clientHeight,this.object.matrix)):(console.warn("WARNING: OrbitControls.js encountered an unknown camera type - pan disabled."),this.enablePan=!1)}_dollyOut(e){this.object.isPerspectiveCamera||this.object.isOrthographicCamera?this._scale/=e:(console.warn("WARNING: OrbitControls.js encountered an unknown camera type - dolly/zoom disabled."),this.enableZoom=!1)}_dollyIn(e){this.object.isPerspectiveCamera||this.object.isOrthographicCamera?this._scale*=e:(console.warn("WARNING: OrbitControls.js encountered an unknown camera type - dolly/zoom disabled."),this.enableZoom=!1)}_updateZoomParameters(e,t){if(!this.zoomToCursor)return;this._performCursorZoom=!0;const i=this.domElement.getBoundingClientRect(),r=e-i.left,s=t-i.top,a=i.width,o=i.height;this._mouse.x=r/a*2-1,this._mouse.y=-(s/o)*2+1,this._dollyDirection.set(this._mouse.x,this._mouse.y,1).unproject(this.object).sub(this.object.position).normalize()}_clampDistance(e){return Math.max(this.minDistance,Math.min(this.maxDistance,e))}_handleMouseDownRotate(e){this._rotateStart.set(e.clientX,e.clientY)}_handleMouseDownDolly(e){this._updateZoomParameters(e.clientX,e.clientX),this._dollyStart.set(e.clientX,e.clientY)}_handleMouseDownPan(e){this._panStart.set(e.clientX,e.clientY)}_handleMouseMoveRotate(e){this._rotateEnd.set(e.clientX,e.clientY),this._rotateDelta.subVectors(this._rotateEnd,this._rotateStart).multiplyScalar(this.rotateSpeed);const t=this.domElement;this._rotateLeft(Ot*this._rotateDelta.x/t.clientHeight),this._rotateUp(Ot*this._rotateDelta.y/t.clientHeight),this._rotateStart.copy(this._rotateEnd),this.update()}_handleMouseMoveDolly(e){this._dollyEnd.set(e.clientX,e.clientY),this._dollyDelta.subVectors(this._dollyEnd,this._dollyStart),this._dollyDelta.y>0?this._dollyOut(this._getZoomScale(this._dollyDelta.y)):this._dollyDelta.y<0&&this._dollyIn(this._getZoomScale(this._dollyDelta.y)),this._dollyStart.copy(this._dollyEnd),this.update()}_handleMouseMovePan(e){this._panEnd.set(e.clientX,e.clientY),this._panDelta.subVectors(this._panEnd,this._panStart).multiplyScalar(this.panSpeed),this._pan(this._panDelta.x,this._panDelta.y),this._panStart.copy(this._panEnd),this.update()}_handleMouseWheel(e){this._updateZoomParameters(e.clientX,e.clientY),e.deltaY<0?this._dollyIn(this._getZoomScale(e.deltaY)):e.deltaY>0&&this._dollyOut(this._getZoomScale(e.deltaY)),this.update()}_handleKeyDown(e){let t=!1;switch(e.code){case this.keys.UP:e.ctrlKey||e.metaKey||e.shiftKey?this.enableRotate&&this._rotateUp(Ot*this.keyRotateSpeed/this.domElement.clientHeight):this.enablePan&&this._pan(0,this.keyPanSpeed),t=!0;break;case this.keys.BOTTOM:e.ctrlKey||e.metaKey||e.shiftKey?this.enableRotate&&this._rotateUp(-Ot*this.keyRotateSpeed/this.domElement.clientHeight):this.enablePan&&this._pan(0,-this.keyPanSpeed),t=!0;break;case this.keys.LEFT:e.ctrlKey||e.metaKey||e.shiftKey?this.enableRotate&&this._rotateLeft(Ot*this.keyRotateSpeed/this.domElement.clientHeight):this.enablePan&&this._pan(this.keyPanSpeed,0),t=!0;break;case this.keys.RIGHT:e.ctrlKey||e.metaKey||e.shiftKey?this.enableRotate&&this._rotateLeft(-Ot*this.keyRotateSpeed/this.domElement.clientHeight):this.enablePan&&this._pan(-this.keyPanSpeed,0),t=!0;break}t&&(e.preventDefault(),this.update())}_handleTouchStartRotate(e){if(this._pointers.length===1)this._rotateStart.set(e.pageX,e.pageY);else{const t=this._getSecondPointerPosition(e),i=.5*(e.pageX+t.x),r=.5*(e.pageY+t.y);this._rotateStart.set(i,r)}}_handleTouchStartPan(e){if(this._pointers.length===1)this._panStart.set(e.pageX,e.pageY);else{const t=this._getSecondPointerPosition(e),i=.5*(e.pageX+t.x),r=.5*(e.pageY+t.y);this._panStart.set(i,r)}}_handleTouchStartDolly(e){const t=this._getSecondPointerPosition(e),i=e.pageX-t.x,r=e.pageY-t.y,s=Math.sqrt(i*i+r*r);this._dollyStart.set(0,s)}_handleTouchStartDollyPan(e){this.enableZoom&&this._handleTouchStartDolly(e),this.enablePan&&this._handleTouchStartPan(e)}_handleTouchStartDollyRotate(e){this.enableZoom&&this._handleTouchStartDolly(e),this.enableRotate&&this._handleTouchStartRotate(e)}_handleTouchMoveRotate(e){if(this._pointers.length==1)this._rotateEnd.set(e.pageX,e.pageY);else{const i=this._getSecondPointerPosition(e),r=.5*(e.pageX+i.x),s=.5*(e.pageY+i.y);this._rotateEnd.set(r,s)}this._rotateDelta.subVectors(this._rotateEnd,this._rotateStart).multiplyScalar(this.rotateSpeed);const t=this.domElement;this._rotateLeft(Ot*this._rotateDelta.x/t.clientHeight),this._rotateUp(Ot*this._rotateDelta.y/t.clientHeight),this._rotateStart.copy(this._rotateEnd)}_handleTouchMovePan(e){if(this._pointers.length===1)this._panEnd.set(e.pageX,e.pageY);else{const t=this._getSecondPointerPosition(e),i=.5*(e.pageX+t.x),r=.5*(e.pageY+t.y);this._panEnd.set(i,r)}this._panDelta.subVectors(this._panEnd,this._panStart).multiplyScalar(this.panSpeed),this._pan(this._panDelta.x,this._panDelta.y),this._panStart.copy(this._panEnd)}_handleTouchMoveDolly(e){const t=this._getSecondPointerPosition(e),i=e.pageX-t.x,r=e.pageY-t.y,s=Math.sqrt(i*i+r*r);this._dollyEnd.set(0,s),this._dollyDelta.set(0,Math.pow(this._dollyEnd.y/this._dollyStart.y,this.zoomSpeed)),this._dollyOut(this._dollyDelta.y),this._dollyStart.copy(this._dollyEnd);const a=(e.pageX+t.x)*.5,o=(e.pageY+t.y)*.5;this._updateZoomParameters(a,o)}_handleTouchMoveDollyPan(e){this.enableZoom&&this._handleTouchMoveDolly(e),this.enablePan&&this._handleTouchMovePan(e)}_handleTouchMoveDollyRotate(e){this.enableZoom&&this._handleTouchMoveDolly(e),this.enableRotate&&this._handleTouchMoveRotate(e)}_addPointer(e){this._pointers.push(e.pointerId)}_removePointer(e){delete this._pointerPositions[e.pointerId];for(let t=0;t<this._pointers.length;t++)if(this._pointers[t]==e.pointerId){this._pointers.splice(t,1);return}}_isTrackingPointer(e){for(let t=0;t<this._pointers.length;t++)if(this._pointers[t]==e.pointerId)return!0;return!1}_trackPointer(e){let t=this._pointerPositions[e.pointerId];t===void 0&&(t=new ke,this._pointerPositions[e.pointerId]=t),t.set(e.pageX,e.pageY)}_getSecondPointerPosition(e){const t=e.pointerId===this._pointers[0]?this._pointers[1]:this._pointers[0];return this._pointerPositions[t]}_customWheelEvent(e){const t=e.deltaMode,i={clientX:e.clientX,clientY:e.clientY,deltaY:e.deltaY};switch(t){case 1:i.deltaY*=16;break;case 2:i.deltaY*=100;break}return e.ctrlKey&&!this._controlActive&&(i.deltaY*=10),i}}function hb(n){this.enabled!==!1&&(this._pointers.length===0&&(this.domElement.setPointerCapture(n.pointerId),this.domElement.addEventListener("pointermove",this._onPointerMove),this.domElement.addEventListener("pointerup",this._onPointerUp)),!this._isTrackingPointer(n)&&(this._addPointer(n),n.pointerType==="touch"?this._onTouchStart(n):this._onMouseDown(n)))}function ub(n){this.enabled!==!1&&(n.pointerType==="touch"?this._onTouchMove(n):this._onMouseMove(n))}function db(n){switch(this._removePointer(n),this._pointers.length){case 0:this.domElement.releasePointerCapture(n.pointerId),this.domElement.removeEventListener("pointermove",this._onPointerMove),this.domElement.removeEventListener("pointerup",this._onPointerUp),this.dispatchEvent(Tf),this.state=Ze.NONE;break;case 1:const e=this._pointers[0],t=this._pointerPositions[e];this._onTouchStart({pointerId:e,pageX:t.x,pageY:t.y});break}}function fb(n){let e;switch(n.button){case 0:e=this.mouseButtons.LEFT;break;case 1:e=this.mouseButtons.MIDDLE;break;case 2:e=this.mouseButtons.RIGHT;break;default:e=-1}switch(e){case zi.DOLLY:if(this.enableZoom===!1)return;this._handleMouseDownDolly(n),this.state=Ze.DOLLY;break;case zi.ROTATE:if(n.ctrlKey||n.metaKey||n.shiftKey){if(this.enablePan===!1)return;this._handleMouseDownPan(n),this.state=Ze.PAN}else{if(this.enableRotate===!1)return;this._handleMouseDownRotate(n),this.state=Ze.ROTATE}break;case zi.PAN:if(n.ctrlKey||n.metaKey||n.shiftKey){if(this.enableRotate===!1)return;this._handleMouseDownRotate(n),this.state=Ze.ROTATE}else{if(this.enablePan===!1)return;this._handleMouseDownPan(n),this.state=Ze.PAN}break;default:this.state=Ze.NONE}this.state!==Ze.NONE&&this.dispatchEvent(ac)}function pb(n){switch(this.state){case Ze.ROTATE:if(this.enableRotate===!1)return;this._handleMouseMoveRotate(n);break;case Ze.DOLLY:if(this.enableZoom===!1)return;this._handleMouseMoveDolly(n);break;case Ze.PAN:if(this.enablePan===!1)return;this._handleMouseMovePan(n);break}}function mb(n){this.enabled===!1||this.enableZoom===!1||this.state!==Ze.NONE||(n.preventDefault(),this.dispatchEvent(ac),this._handleMouseWheel(this._customWheelEvent(n)),this.dispatchEvent(Tf))}function gb(n){this.enabled!==!1&&this._handleKeyDown(n)}function _b(n){switch(this._trackPointer(n),this._pointers.length){case 1:switch(this.touches.ONE){case Hi.ROTATE:if(this.enableRotate===!1)return;this._handleTouchStartRotate(n),this.state=Ze.TOUCH_ROTATE;break;case Hi.PAN:if(this.enablePan===!1)return;this._handleTouchStartPan(n),this.state=Ze.TOUCH_PAN;break;default:this.state=Ze.NONE}break;case 2:switch(this.touches.TWO){case Hi.DOLLY_PAN:if(this.enableZoom===!1&&this.enablePan===!1)return;this._handleTouchStartDollyPan(n),this.state=Ze.TOUCH_DOLLY_PAN;break;case Hi.DOLLY_ROTATE:if(this.enableZoom===!1&&this.enableRotate===!1)return;this._handleTouchStartDollyRotate(n),this.state=Ze.TOUCH_DOLLY_ROTATE;break;default:this.state=Ze.NONE}break;default:this.state=Ze.NONE}this.state!==Ze.NONE&&this.dispatchEvent(ac)}function vb(n){switch(this._trackPointer(n),this.state){case Ze.TOUCH_ROTATE:if(this.enableRotate===!1)return;this._handleTouchMoveRotate(n),this.update();break;case Ze.TOUCH_PAN:if(this.enablePan===!1)return;this._handleTouchMovePan(n),this.update();break;case Ze.TOUCH_DOLLY_PAN:if(this.enableZoom===!1&&this.enablePan===!1)return;this._handleTouchMoveDollyPan(n),this.update();break;case Ze.TOUCH_DOLLY_ROTATE:if(this.enableZoom===!1&&this.enableRotate===!1)return;this._handleTouchMoveDollyRotate(n),this.update();break;default:this.state=Ze.NONE}}function xb(n){this.enabled!==!1&&n.preventDefault()}function Sb(n){n.key==="Control"&&(this._controlActive=!0,this.domElement.getRootNode().addEventListener("keyup",this._interceptControlUp,{passive:!0,capture:!0}))}function bb(n){n.key==="Control"&&(this._controlActive=!1,this.domElement.getRootNode().removeEventListener("keyup",this._interceptControlUp,{passive:!0,capture:!0}))}const Mb=.5;function wb(n){return n.flatMap(([e,t],i)=>{const[r,s]=n[(i+1)%n.length],a=Math.max(1,Math.ceil(Math.hypot(r-e,s-t)/Mb));return Array.from({length:a},(o,l)=>[e+(r-e)*l/a,t+(s-t)*l/a])})}function yb(n,e,t){const i=wb(n),r=i.length,s=new Float32Array(6*r),a=new Uint32Array(6*r);return i.forEach(([o,l],c)=>{const[u,d]=i[(c+r-1)%r],[h,p]=i[(c+1)%r],g=Math.hypot(h-u,p-d)||1,[_,m]=[-(p-d)/g,(h-u)/g],f=t(o,l);for(const y of[0,1]){const M=(y-.5)*e;s.set([l+M*m,-(o+M*_),f],6*c+3*y)}const E=(c+1)%r;a.set([2*c,2*c+1,2*E,2*E,2*c+1,2*E+1],6*c)}),{positions:s,triangles:a}}function Eb(n){const{rows:e,columns:t}=n.grid,i=n.field("thickness").slice(),r=(s,a)=>tu(n.rim,n.x_mm(s),n.y_mm(a));for(const s of[0,1])for(let a=0;a<t/2;a++){const o=s===0?t/2-1-a:t/2+a,l=a===0?null:s===0?o+1:o-1;for(let c=e-1;c>=0;c--){const u=n.index(c,o);if(!Number.isNaN(i[u])||!r(c,o))continue;const d=l===null?NaN:i[n.index(c,l)]??NaN;i[u]=Number.isNaN(d)&&c+1<e?i[n.index(c+1,o)]??NaN:d}}return i}function Tb(n,e,t){let i={place:[e,t],distance_mm:1/0};return n.forEach(([r,s],a)=>{const[o,l]=n[(a+1)%n.length]??[r,s],c=(o-r)**2+(l-s)**2,u=c>0?Math.min(1,Math.max(0,((e-r)*(o-r)+(t-s)*(l-s))/c)):0,d=[r+u*(o-r),s+u*(l-s)],h=Math.hypot(e-d[0],t-d[1]);h<i.distance_mm&&(i={place:d,distance_mm:h})}),i}function Ab(n,e){const{rows:t,columns:i}=n.grid,r=Eb(n),s=new Int32Array(t*i).fill(-1),a=[];for(let _=0;_<i;_++)for(let m=0;m<t&&n.x_mm(m)<e;m++){const f=n.index(m,_);Number.isNaN(r[f])||(s[f]=a.length,a.push(f))}const o=a.length,l=new Float32Array(6*o),c=new Float32Array(4*o);a.forEach((_,m)=>{const f=_%t,E=Math.floor(_/t);for(const y of[3*m,3*(o+m)])l[y]=n.y_mm(E),l[y+1]=-n.x_mm(f);l[3*m+2]=(r[_]??0)/1e3;for(const y of[2*m,2*(o+m)])c[y]=(E+.5)/i,c[y+1]=1-(f+.5)/t});const u=[],d=[],h=new Map,p=(_,m)=>{const f=m*o+_;h.delete(f)||h.set(_*o+m,[_,m])};for(let _=0;_+1<i;_++)for(let m=0;m+1<t;m++){const f=s[n.index(m,_)]??-1,E=s[n.index(m+1,_)]??-1,y=s[n.index(m+1,_+1)]??-1,M=s[n.index(m,_+1)]??-1;f<0||E<0||y<0||M<0||(u.push(f,E,y,f,y,M),d.push(o+f,o+y,o+E,o+f,o+M,o+y),p(f,E),p(E,y),p(y,M),p(M,f))}const g=1.5*n.grid.cell_mm;for(const[_,m]of h.values()){d.push(_,o+_,o+m,_,o+m,m);const{place:f,distance_mm:E}=Tb(n.rim,-(l[3*_+1]??0),l[3*_]??0);if(!(E>g||f[0]>e))for(const y of[3*_,3*(o+_)])l[y]=f[1],l[y+1]=-f[0]}return{positions:l,places:c,triangles:Uint32Array.from([...u,...d]),upper:u.length,cells:Uint32Array.from(a)}}function Rb(n,e,t){const i=n.cells.length,r=e.field("thickness"),s=new Float32Array(6*i),a=2*e.grid.cell_mm*1e3;for(let o=0;o<i;o++){const l=n.cells[o]??0,c=r[l]??NaN,u=(m,f)=>{const E=r[m]??NaN,y=r[f]??NaN;if(!Number.isNaN(E)&&!Number.isNaN(y))return(y-E)/a*t;const M=2*(Number.isNaN(y)?c-E:y-c)*t/a;return Number.isNaN(M)?0:M},d=l%e.grid.rows,h=u(d>0?l-1:-1,d+1<e.grid.rows?l+1:-1),p=u(l-e.grid.rows,l+e.grid.rows),g=Math.hypot(h,p,1),_=.72+.28*Math.max(0,(.45*p-.45*h+.77)/g);for(let m=0;m<3;m++)s[3*o+m]=_;for(let m=0;m<3;m++)s[3*(i+o)+m]=[.62,.58,.5][m]??.5}return s}function Cb(n,e,t,i){const r=su(t.values),s=new Float32Array(n.cells.length);return n.cells.forEach((a,o)=>{const l=e.x_mm(a%e.grid.rows)/i.step_mm-.5,c=(e.y_mm(Math.floor(a/e.grid.rows))-i.first_y_mm)/i.step_mm,u=Math.min(t.rows-2,Math.max(0,Math.floor(l))),d=Math.min(t.columns-2,Math.max(0,Math.floor(c)));let h=0,p=0;for(const g of[0,1])for(const _ of[0,1]){const m=r[(d+_)*t.rows+u+g]??NaN,f=Math.min(1,Math.max(0,l-u)),E=Math.min(1,Math.max(0,c-d)),y=(g===0?1-f:f)*(_===0?1-E:E)+.001;Number.isNaN(m)||(h+=y*m,p+=y)}s[o]=p>0?h/p:0}),s}Ge.enabled=!1;const Pb=2,Db=4;class Lb{constructor(e,t){this.canvas=e,this.data=t,this.renderer=new ob({canvas:e,antialias:!1,alpha:!0,preserveDrawingBuffer:!0,powerPreference:"high-performance"}),this.renderer.outputColorSpace=hi,this.renderer.setClearColor(new Xe(0),0),this.scene.add(this.body),this.controls=new cb(this.camera,e),this.controls.addEventListener("change",()=>this.ask()),this.controls.addEventListener("start",()=>this.turn(!0)),this.controls.addEventListener("end",()=>this.turn(!1));const i=new cn;i.setAttribute("position",new yt(new Float32Array([-1.2,0,0,1.2,0,0,0,-1.2,0,0,1.2,0,0,0,-.5,0,0,3]),3)),this.mark=new K_(i,this.dark),this.dark.depthTest=!1,this.mark.renderOrder=3,this.body.add(this.mark),this.sizes=new ResizeObserver(()=>this.resize()),this.sizes.observe(e),this.resize()}renderer;scene=new X_;body=new $r;camera=new jt(30,1,1,1e3);controls;face=new ir({vertexColors:!0,side:Ht});cane=new ir({vertexColors:!0,side:Ht});dark=new Od({color:1710622});bands=[{width_mm:.62,material:new ir({color:16777215,side:Ht,depthTest:!1})},{width_mm:.32,material:new ir({color:1710622,side:Ht,depthTest:!1})}];mark;mesh=null;relief=null;still=null;moved=null;places=[];map=null;colours=null;wipe=void 0;image=document.createElement("canvas");imageBefore=null;exaggeration=5;length_mm=36;movement="still";turning=!1;asked=0;settle=0;sizes;close(){this.sizes.disconnect(),cancelAnimationFrame(this.asked),clearTimeout(this.settle),this.controls.dispose(),this.mesh?.geometry.dispose(),this.face.map?.dispose();for(const e of this.places)e.geometry.dispose();this.renderer.dispose()}show(e,t,i,r,s,a){const o=e!==this.map||s!==this.length_mm;if(this.exaggeration=r,o||!this.relief){this.map=e,this.length_mm=s,this.relief=Ab(e,s),this.still=this.relief.positions.slice();const l=new cn;l.setAttribute("position",new yt(this.relief.positions,3)),l.setAttribute("uv",new yt(this.relief.places,2)),l.setIndex(new yt(this.relief.triangles,1)),l.addGroup(0,this.relief.upper,0),l.addGroup(this.relief.upper,this.relief.triangles.length-this.relief.upper,1),this.mesh?.geometry.dispose(),this.mesh?this.mesh.geometry=l:this.body.add(this.mesh=new hn(l,[this.face,this.cane]))}if(this.mesh?.geometry.setAttribute("color",new yt(Rb(this.relief,e,r),3)),t!==this.colours||a?.share!==this.wipe){t!==this.colours&&(this.image=Mo(Ls(e,t,i,bo(e))),this.imageBefore=a?Mo(Ls(a.map,a.colours,i,bo(a.map))):null),this.colours=t,this.wipe=a?.share;const l=a&&this.imageBefore?ig({canvas:this.image,map:e},{canvas:this.imageBefore,map:a.map},a.share,a.clipped_mm):this.image;this.face.map?.dispose(),this.face.map=new J_(l),this.face.map.generateMipmaps=!1,this.face.map.minFilter=nn,this.face.needsUpdate=!0}this.body.scale.z=r,this.body.position.y=.5*s,this.prepareMovement(),o&&this.fit(),this.ask()}showPlaces(e){for(const t of this.places)t.geometry.dispose(),this.body.remove(t);this.places=this.bands.flatMap(({width_mm:t,material:i},r)=>e.map(s=>{const a=yb(s.polygon,t,(c,u)=>this.heightAt(c,u)),o=new cn;o.setAttribute("position",new yt(a.positions,3)),o.setIndex(new yt(a.triangles,1));const l=new hn(o,i);return l.renderOrder=1+r,l.visible=this.movement==="still",this.body.add(l),l})),this.ask()}showCursor(e,t){this.mark.position.set(t,-e,this.heightAt(e,t)),this.mark.scale.z=1/this.exaggeration,this.showCursorNow(),this.ask()}showCursorNow(){this.mark.visible=this.movement==="still"&&-this.mark.position.y<=this.length_mm}move(e){this.movement=e;for(const t of this.places)t.visible=e==="still";this.showCursorNow(),this.prepareMovement(),this.ask()}inkIs(e){this.dark.color.set(e),this.ask()}fit(){const t=(.5*this.length_mm+1)*Math.cos(.5)+2,i=9,r=this.camera.fov*Math.PI/360,s=Math.max(t/Math.tan(r),i/(Math.tan(r)*this.camera.aspect))+2;this.controls.target.set(0,0,0),this.camera.up.set(0,1,0),this.camera.position.set(0,-s*Math.sin(.5),s*Math.cos(.5)),this.controls.update(),this.ask()}orbit(e,t){const i=this.camera.position.clone().sub(this.controls.target),r=i.length(),s=new O(0,1,0),a=Math.atan2(i.x,i.z)+e,o=Math.min(3,Math.max(.1,Math.acos(i.dot(s)/r)-t));i.set(r*Math.sin(o)*Math.sin(a),r*Math.cos(o),r*Math.sin(o)*Math.cos(a)),this.camera.position.copy(this.controls.target).add(i),this.controls.update(),this.brieflyTurning()}zoom(e){const t=this.camera.position.clone().sub(this.controls.target);t.setLength(Math.min(400,Math.max(12,t.length()*e))),this.camera.position.copy(this.controls.target).add(t),this.controls.update(),this.ask()}pick(e,t){if(!this.mesh)return null;const i=this.canvas.getBoundingClientRect(),r=new ke((e-i.left)/i.width*2-1,1-(t-i.top)/i.height*2),s=new i0;s.setFromCamera(r,this.camera);const a=s.intersectObject(this.mesh)[0];if(!a)return null;const o=this.body.worldToLocal(a.point.clone());return{x_mm:-o.y,y_mm:o.x}}picture(){this.turning=!1,this.resize(),this.renderer.setPixelRatio(2),this.draw();const e=this.canvas.toDataURL("image/png");return this.resize(),e}heightAt(e,t){const i=this.map;if(!i)return 0;const r=-Math.sign(t)*i.grid.cell_mm;for(let s=t;s*t>=0;s+=r){const a=i.cellAt(e,s),o=a?i.field("thickness")[i.index(a.row,a.column)]??NaN:NaN;if(!Number.isNaN(o))return o/1e3;if(r===0)break}return 0}prepareMovement(){const e=this.data.bending;if(!this.relief||!this.map||!e||this.movement==="still"){this.moved=null,this.place(0);return}const t=this.movement==="bent"?e.bent_mm:e.modes[this.movement]?.shape;if(this.moved=t?Cb(this.relief,this.map,t,e):null,!this.moved)return;const i=this.moved.reduce((r,s)=>Math.max(r,Math.abs(s)),1e-9);for(let r=0;r<this.moved.length;r++)this.moved[r]=-(this.moved[r]??0)/i*(Db/this.exaggeration)}place(e){if(!this.relief||!this.still||!this.mesh)return;const t=this.relief.cells.length,i=this.relief.positions;for(let s=0;s<t;s++){const a=e*(this.moved?.[s]??0);i[3*s+2]=(this.still[3*s+2]??0)+a,i[3*(t+s)+2]=a}const r=this.mesh.geometry.getAttribute("position");r&&(r.needsUpdate=!0)}turn(e){clearTimeout(this.settle),e?(this.turning=!0,this.resize()):this.settle=window.setTimeout(()=>{this.turning=!1,this.resize()},150)}brieflyTurning(){this.turning||this.turn(!0),this.turn(!1),this.ask()}resize(){const e=this.canvas.clientWidth,t=this.canvas.clientHeight;if(e===0||t===0)return;const i=Math.min(2,window.devicePixelRatio);this.renderer.setPixelRatio(this.turning?.5*i:i),this.renderer.setSize(e,t,!1);const r=this.camera.aspect;this.camera.aspect=e/t,this.camera.updateProjectionMatrix(),Math.abs(r-this.camera.aspect)>.02&&this.fit(),this.draw()}ask(){this.asked===0&&(this.asked=requestAnimationFrame(e=>this.frame(e)))}frame(e){if(this.asked=0,this.moved){const t=e/1e3/Pb*2*Math.PI;this.place(this.movement==="bent"?.5-.5*Math.cos(t):Math.sin(t)),document.hidden||this.ask()}this.draw()}draw(){this.renderer.render(this.scene,this.camera)}}const Nb=["surface","flat","folded"];function Rf(n,e){return e==="folded"?n.colourings.filter(t=>t==="leftRight"||t==="beforeAfter"):n.colourings}function Ub({reed:n,onSurface:e}){const t=Kn(null),i=Kn(null);In(()=>{if(t.current){try{i.current=new Lb(t.current,n.data)}catch{n.cannotTurn.value=!0,n.view.value="flat";return}return e(i.current),()=>{e(null),i.current?.close(),i.current=null}}},[]);const r=n.shown.value,s=n.mapShown(n.colours.value),{x_mm:a,y_mm:o}=n.cursor.value,l=n.shownBefore.value,c=n.wipe.value;In(()=>{const p=l&&n.before?{map:n.before,colours:l,share:c,clipped_mm:n.clipped_mm}:null;i.current?.show(s,r,n.palettes,n.exaggeration.value,n.longest_mm,p),i.current?.showPlaces(n.colours.value==="plan"||n.colours.value==="leftRight"?n.data.plan.steps:[])},[s,r,n.exaggeration.value,n.wholeReed.value,l,c]),In(()=>i.current?.showCursor(n.onShownMap_mm(a),o),[a,o,n.exaggeration.value,s]),In(()=>i.current?.move(n.movement.value),[n.movement.value,n.exaggeration.value]),In(()=>i.current?.inkIs(Cs.value?"#ffffff":"#1a1a1e"),[Cs.value]);const u=p=>{const g=i.current?.pick(p.clientX,p.clientY);g&&n.moveCursor(g.x_mm-n.onShownMap_mm(0),g.y_mm)},d=Kn({x:0,y:0}),h=6;return x("canvas",{ref:t,class:"surface","data-view":"surface",role:"img","aria-label":Cu(n),onPointerMove:p=>p.pointerType==="mouse"&&p.buttons===0&&u(p),onPointerDown:p=>d.current={x:p.clientX,y:p.clientY},onPointerUp:p=>Math.hypot(p.clientX-d.current.x,p.clientY-d.current.y)<h&&u(p)})}function Ib({reed:n}){const{x_mm:e,y_mm:t}=n.cursor.value,i=eu(n.map,n.data.zones,e,t,n.data.faults),r=Fn(Tt.value),s=`${Sn(e.toFixed(1))} ${N("fromTip")}, `+(Math.abs(t)<.05?N("onCentre"):`${Sn(Math.abs(t).toFixed(1))} ${N(t<0?"leftOf":"rightOf")}`),a=i&&!Number.isNaN(i.thickness_um)?`${Ut(i.thickness_um)} ±${Ut(Math.max(1,i.u95_um))} ${r}`:N("notSeen"),o=i?.zone,l=n.shown.value,c=l.name==="beforeAfter"&&n.before?eu(n.before,n.data.zones,e+n.clipped_mm,t):null,u=n.mapShown(n.colours.value),d=u.cellAt(n.onShownMap_mm(e),t),h=d?l.look(u.index(d.row,d.column)):null,p=l.name==="thickness"||l.name==="leftRight"||l.name==="beforeAfter"||l.name==="sureness";return x("div",{class:"readout","aria-live":"polite",children:[x("p",{children:[x("span",{children:s})," ",x("strong",{"data-read":"thickness",children:a})]}),i&&!c&&!Number.isNaN(i.difference_um)?x("p",{children:[N("rightMinusLeft"),": ",x("strong",{"data-read":"difference",children:Ut(i.difference_um,1,!0)}),Number.isNaN(i.u95_difference_um)?"":` ±${Ut(i.u95_difference_um,1)}`," ",r]}):null,c&&i?x("p",{children:[N("rightMinusLeft"),": ",N("before")," ",x("strong",{"data-read":"before",children:Ut(c.difference_um,1,!0)}),", ",N("after")," ",x("strong",{children:Ut(i.difference_um,1,!0)})," ",r]}):null,h&&!p&&h.trust!=="unknown"?x("p",{children:[N(l.name),": ",x("strong",{children:Ro(l,h.value,l.diverging)})," ",l.unit==="percent"?"%":r]}):null,i?.fault&&!c?x("p",{"data-read":"fault",children:pg(i.fault,`${Ut(i.fault.difference_um)} ${r}`)}):null,o?x("p",{children:[N("zone"),": ",N(o.across),", ",N(o.along),";"," ",o.difference_um===null?"":`${N("zoneMean")} ${Ut(o.difference_um,1,!0)} ±${Ut(o.u95_um??NaN,1)} ${r}; `,x("strong",{children:N(o.verdict)})]}):null]})}function kb({reed:n,stage:e,surface:t}){const i=`reed-${n.view.value}-${n.colours.value}`,r=()=>{const o=e.current?.querySelector("svg.flat"),l=e.current?.querySelector("canvas"),c=o?uo(o,n.view.value==="folded"?240:380):vm(t.current?.picture()??"",l?.clientWidth??600,l?.clientHeight??600),u=e.current?.closest(".viewer")?.querySelector(".legend > svg");return Jh(en(n.data.headline).text,[c,...u?[uo(u,340)]:[]],`${N(n.colours.value)}: ${Xu(n)}`)},s=async()=>yr(i+".png",await wm(r())),a=n.data.template_pdf;return x("details",{class:"menu",children:[x("summary",{children:N("save_as")}),x("div",{children:[x("button",{onClick:()=>void s(),children:N("picture")}),x("button",{onClick:()=>yr(i+".svg",new Blob([r()],{type:"image/svg+xml"})),children:N("drawing")}),x("button",{onClick:()=>yr("thickness.csv",new Blob([Am(n.map)],{type:"text/csv"})),children:N("table")}),a?x("button",{onClick:()=>yr("template.pdf",new Blob([ru(a)],{type:"application/pdf"})),children:N("template")}):null,x("button",{onClick:()=>window.print(),children:N("print")})]})]})}function Fb({reed:n,surface:e}){const i=n.data.bending?.modes??[];return x(Et,{children:[x("div",{class:"row",role:"group","aria-label":N("surface"),children:[x("button",{"aria-label":N("turnLeft"),onClick:()=>e.current?.orbit(-.15,0),children:"←"}),x("button",{"aria-label":N("turnRight"),onClick:()=>e.current?.orbit(.15,0),children:"→"}),x("button",{"aria-label":N("tiltUp"),onClick:()=>e.current?.orbit(0,.15),children:"↑"}),x("button",{"aria-label":N("tiltDown"),onClick:()=>e.current?.orbit(0,-.15),children:"↓"}),x("button",{"aria-label":N("zoomIn"),onClick:()=>e.current?.zoom(.85),children:"+"}),x("button",{"aria-label":N("zoomOut"),onClick:()=>e.current?.zoom(1.18),children:"−"}),x("button",{onClick:()=>e.current?.fit(),children:N("fit")})]}),x("label",{children:[N("height")," ",n.exaggeration.value,x("input",{type:"range",min:"1",max:"20",value:n.exaggeration.value,onInput:r=>n.exaggeration.value=Number(r.currentTarget.value)})]}),n.data.bending?x("label",{children:[N("movement"),x("select",{value:String(n.movement.value),onChange:r=>{const s=r.currentTarget.value;n.movement.value=s==="still"||s==="bent"?s:Number(s)},children:[x("option",{value:"still",children:N("still")}),x("option",{value:"bent",children:N("bent")}),i.map((r,s)=>x("option",{value:String(s),children:[N("mode")," ",s+1,", ",r.kind==="twisting"?N("twisting"):N("bending"),r.hz===null?"":`, ${r.hz.toFixed(0)} Hz`]},s))]})]}):null]})}function Ob({reed:n}){const e=Kn(null),t=Kn(null),i=n.view.value,r=Rf(n,i),s=o=>{const l=Rf(n,o);l.includes(n.colours.value)||(n.colours.value=l[0]??"thickness"),n.view.value=o},a=o=>{if((o.ctrlKey||o.metaKey||o.altKey)&&!o.getModifierState("AltGraph"))return;const l=o.shiftKey?1:n.data.grid.cell_mm,{x_mm:c,y_mm:u}=n.cursor.value,d=t.current,h=.12,p={ArrowUp:()=>n.moveCursor(c-l,u),ArrowDown:()=>n.moveCursor(c+l,u),ArrowLeft:()=>n.moveCursor(c,u-l),ArrowRight:()=>n.moveCursor(c,u+l),a:()=>d?.orbit(-h,0),d:()=>d?.orbit(h,0),w:()=>d?.orbit(0,h),s:()=>d?.orbit(0,-h),"+":()=>d?.zoom(.85),"-":()=>d?.zoom(1.18),f:()=>d?.fit(),"[":()=>n.exaggeration.value=Math.max(1,n.exaggeration.value-1),"]":()=>n.exaggeration.value=Math.min(20,n.exaggeration.value+1)},g=p[o.key]??p[o.key.toLowerCase()];g&&(o.preventDefault(),g())};return x("div",{class:"viewer",children:[x("div",{class:"row choices",children:[x("div",{class:"segments",role:"group","aria-label":N("view"),children:Nb.filter(o=>o!=="surface"||!n.cannotTurn.value).map(o=>x("button",{"aria-pressed":i===o,onClick:()=>s(o),children:N(o)},o))}),x("label",{children:[N("colours"),x("select",{value:n.colours.value,onChange:o=>n.colours.value=o.currentTarget.value,children:r.map(o=>x("option",{value:o,children:N(o)},o))})]})]}),n.cannotTurn.value?x("p",{role:"status",children:N("noSurface")}):null,x("div",{class:"stage",ref:e,tabIndex:0,role:"group","aria-label":`${N("seeIt")}. ${N("keys")}`,onKeyDown:a,children:i==="surface"?x(Ub,{reed:n,onSurface:o=>t.current=o}):x(cg,{reed:n,folded:i==="folded"})}),x(Ib,{reed:n}),x(Cg,{reed:n}),x("div",{class:"row tools",children:[i==="surface"?x(Fb,{reed:n,surface:t}):null,n.colours.value==="beforeAfter"?x("label",{class:"wide",children:[N("wipe")," ",Math.round(100*n.wipe.value)," %",x("input",{type:"range",min:"0",max:"1",step:"0.01",value:n.wipe.value,onInput:o=>n.wipe.value=Number(o.currentTarget.value)})]}):null,x("label",{children:[N("extent"),x("select",{value:n.wholeReed.value?"whole":"vamp",onChange:o=>n.wholeReed.value=o.currentTarget.value==="whole",children:[x("option",{value:"vamp",children:N("vamp")}),x("option",{value:"whole",children:N("whole")})]})]}),i==="surface"?null:x(Et,{children:[x("label",{class:"check",children:[x("input",{type:"checkbox",checked:n.showZones.value,onChange:o=>n.showZones.value=o.currentTarget.checked})," ",N("zones")]}),x("label",{class:"check",children:[x("input",{type:"checkbox",checked:n.showGrid.value,onChange:o=>n.showGrid.value=o.currentTarget.checked})," ",N("grid")]})]}),x(kb,{reed:n,stage:e,surface:t})]}),x("p",{class:"soft keys",children:N("keys")}),x("div",{class:"curves",children:[x(Jm,{reed:n}),x(Qm,{reed:n})]})]})}const Bb=["alt","aria-label"];function zb(n){const e=[],t=[],i=[],r=document.createTreeWalker(n,NodeFilter.SHOW_TEXT);for(let a=r.nextNode();a;a=r.nextNode()){const o=a.parentElement;!o||o.closest("script, style, .app, [data-text]")||(/\p{L}/u.test(a.data)?e.push({node:a,parent:o,text:a.data}):/\d/.test(a.data)&&t.push({node:a,text:a.data,um:o.closest("[data-um]")!==null}))}for(const a of Bb)for(const o of n.querySelectorAll(`[${a}]:not(.app *)`))i.push({element:o,name:a,text:o.getAttribute(a)??""});const s=document.title;un(()=>{const a=new Set;for(const{node:o,parent:l,text:c}of e){const u=en(c);o.data=u.text,u.lang!==Xt.value&&a.add(l)}for(const{parent:o}of e)o.lang=a.has(o)?"en":Xt.value;for(const{element:o,name:l,text:c}of i)o.setAttribute(l,en(c).text);document.title=en(s).text}),un(()=>{for(const{node:a,text:o,um:l}of t)a.data=Sn(l?Hm(o,Tt.value):o)}),un(()=>{for(const a of n.querySelectorAll("[data-text]")){const o=a.dataset.text??"";po(o)&&(a.textContent=N(o),a.lang=Xt.value)}})}const ba=it(!1);function Hb({reed:n}){if(n.data.plan.steps.length===0)return null;const e=Eo(ki(Fu(n)));return x(Et,{children:[x("button",{class:"main guide-button",onClick:()=>ba.value=!0,children:N(ba.value||e.length===0?"guide":e.includes("test-failed")?"vetoed":"resume")}),ba.value?x(Sg,{reed:n,onClose:()=>ba.value=!1}):null]})}function Ln(n,e){const t=document.getElementById(n);t&&(t.classList.add("app"),un(()=>{t.lang=Xt.value}),t.replaceChildren(),Gf(e,t))}const Cf=document.getElementById("home");Cf?Ln("home",x(Tg,{token:Cf.dataset.token??""})):zb(document.body);const Pf=document.getElementById("reed-data")?.textContent;if(Pf){const n=new Zm(JSON.parse(Pf));Ln("viewer",x(Ob,{reed:n})),Ln("guide",x(Hb,{reed:n})),Ln("steps",x(Rg,{reed:n}));const e=document.getElementById("hand");e&&Ln("hand",x(Mg,{reed:n,token:e.dataset.token??"",known:e.dataset.known==="1"})),Ln("bars",x(ng,{reed:n})),Ln("closing",x(eg,{reed:n})),Ln("compliance",x(tg,{reed:n}))}document.body.insertAdjacentHTML("afterbegin",'<header id="reader"></header>'),Ln("reader",x(Ag,{})),document.documentElement.dataset.ready="yes"})();
