# Trains the reader that is kept, against the labels and the mean of four teachers: bash training/student.sh SECONDS
export PYTHONUNBUFFERED=1 TOKENIZERS_PARALLELISM=false OMP_NUM_THREADS=2
cd training
deep='[0,1,1,2,3,3,4,5,5]'
python3 train.py /tmp/student --config "{\"seed\":11,\"epochs\":99,\"seconds\":$1,\"workers\":8,\"report\":3,\"rate\":0.00015,\"inserted\":1.0,\"smooth\":0.02,\"begin\":\"/tmp/teacher1/reader.safetensors\",
\"teachers\":[[\"/tmp/teacher1/reader.safetensors\",$deep],[\"/tmp/teacher2/reader.safetensors\",$deep],[\"/tmp/teacher3/reader.safetensors\",$deep],[\"/tmp/teacher4/reader.safetensors\",$deep]]}" >$OUT/student.log 2>&1
cp /tmp/student/reader-*.safetensors $OUT
tail -40 $OUT/student.log
ls -la $OUT
